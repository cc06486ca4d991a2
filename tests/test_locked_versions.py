"""The versions that are written down for those who deploy are ones that the program asks for, on each Python."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parents[1]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
RUNTIME: list[str] = PROJECT["dependencies"]
WITH_TESTS: list[str] = [*RUNTIME, *(name for extra in PROJECT["optional-dependencies"].values() for name in extra)]

PYTHONS = ("3.11", "3.12", "3.13", "3.14")

WITH_DATABASE: list[str] = [*RUNTIME, *PROJECT["optional-dependencies"]["postgresql"]]

LOCKED = [
    pytest.param(ROOT / ".ci" / "requirements.txt", RUNTIME, id="runtime"),
    pytest.param(ROOT / ".ci" / "requirements-postgresql.txt", WITH_DATABASE, id="with a database"),
    pytest.param(ROOT / ".ci" / "requirements-test.txt", WITH_TESTS, id="with tests"),
]


@dataclass(frozen=True)
class Line:
    """One requirement with the hashes of its files."""

    requirement: Requirement
    hashes: tuple[str, ...]

    @property
    def version(self) -> str:
        [pinned] = self.requirement.specifier
        assert pinned.operator == "=="
        return pinned.version

    def holds(self, python: str) -> bool:
        """Whether it is meant for this Python, on Linux."""
        marker = self.requirement.marker
        here = {"python_version": python, "python_full_version": f"{python}.0", "sys_platform": "linux"}
        return marker is None or marker.evaluate(here | {"os_name": "posix"})


def lines(path: Path) -> list[Line]:
    text = re.sub(r"^\s*#.*\n?", "", path.read_text(), flags=re.MULTILINE)
    found = []
    for line in text.replace("\\\n", " ").splitlines():
        said, *hashes = line.split(" --hash=")
        found.append(Line(Requirement(said), tuple(one.strip() for one in hashes)))
    return found


@pytest.mark.parametrize(("path", "asked"), LOCKED)
@pytest.mark.parametrize("python", PYTHONS)
def test_each_dependency_has_one_version_that_will_do(path: Path, asked: list[str], python: str) -> None:
    there = [line for line in lines(path) if line.holds(python)]
    pinned = {canonicalize_name(line.requirement.name): line.version for line in there}
    assert len(pinned) == len(there), "one version each"
    for requirement in map(Requirement, asked):
        assert requirement.specifier.contains(pinned[canonicalize_name(requirement.name)]), requirement


@pytest.mark.parametrize(("path", "asked"), LOCKED)
def test_every_file_is_known_by_its_hash_and_no_registry_is_named(path: Path, asked: list[str]) -> None:
    found = lines(path)
    assert len(found) > len(asked)
    for line in found:
        assert line.hashes, line.requirement
        assert all(re.fullmatch(r"sha256:[0-9a-f]{64}", one) for one in line.hashes)
    assert "://" not in path.read_text()


def test_the_tests_run_with_what_is_deployed() -> None:
    runtime, with_database, with_tests = (
        {(line.requirement.name, line.version, line.hashes) for line in lines(ROOT / ".ci" / name)}
        for name in ("requirements.txt", "requirements-postgresql.txt", "requirements-test.txt")
    )
    assert runtime <= with_database <= with_tests


def test_the_pythons_are_those_that_are_allowed() -> None:
    assert PROJECT["requires-python"] == f">={PYTHONS[0]}"
