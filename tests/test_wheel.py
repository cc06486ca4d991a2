"""The built wheel works in an empty environment, away from the checkout."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import urllib.request
import venv
from importlib.metadata import Distribution, distribution, distributions
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The `companion` command in an environment that has the wheel and what it depends on, and no more."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(ROOT)],
        check=True,
        capture_output=True,
    )
    [wheel] = folder.glob("*.whl")
    venv.create(folder / "env")
    binaries = folder / "env" / ("Scripts" if os.name == "nt" else "bin")
    pip = [sys.executable, "-m", "pip", "--python", str(binaries / "python")]
    subprocess.run([*pip, "install", "--quiet", "--no-compile", "--no-deps", wheel], check=True, capture_output=True)
    [packages] = {path.parent for path in (folder / "env").rglob("tapeline-*.dist-info")}
    [itself] = distributions(name="tapeline", path=[str(packages)])
    _give_what_is_needed(itself, packages)
    return binaries / "companion"


def _give_what_is_needed(by: Distribution, packages: Path) -> None:
    """Copy what the metadata of an installed package asks for from here, where it is already unpacked.

    To fetch and unpack it all once more takes pip several seconds, and a network.
    """
    needed = (Requirement(line) for line in by.requires or ())
    for name in (one.name for one in needed if not one.marker or one.marker.evaluate({"extra": ""})):
        found = distribution(name)
        if any(distributions(name=name, path=[str(packages)])):
            continue
        for file in found.files or ():
            source = Path(str(file.locate()))
            if ".." not in file.parts and source.is_file():  # neither a command, nor a cache that somebody emptied
                (packages / file).parent.mkdir(parents=True, exist_ok=True)
                shutil.copy2(source, packages / file)  # as old as it is, so that Python knows it as compiled already
        _give_what_is_needed(found, packages)


def test_it_plans_a_sample(installed: Path, tmp_path: Path) -> None:
    sample = next((ROOT / "sample_projects").glob("*.json"))
    run = subprocess.run(
        [str(installed), "plan", str(sample), "--format", "json"], cwd=tmp_path, capture_output=True, check=True
    )
    assert json.loads(run.stdout)["sections"]


def test_it_serves_pages_files_and_samples(installed: Path, tmp_path: Path) -> None:
    command = [str(installed), "serve", "--local", "--port", "0", "--data", str(tmp_path)]
    environment = {**os.environ, "PYTHONIOENCODING": "utf-8"}
    with subprocess.Popen(command, cwd=tmp_path, stdout=subprocess.PIPE, encoding="utf-8", env=environment) as server:
        try:
            assert server.stdout
            address = re.search(r"http://\S+", server.stdout.readline())
            assert address
            first_page = _get(address[0] + "/")
            assert "/sample/" in first_page
            styles = re.search(r"/static/\w+/css/lib/base\.css", first_page)
            assert styles
            assert "--tape" in _get(address[0] + styles[0])
        finally:
            server.terminate()


def _get(url: str) -> str:
    with urllib.request.urlopen(url, timeout=20) as answer:
        return str(answer.read().decode())
