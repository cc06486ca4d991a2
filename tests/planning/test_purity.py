"""The planning core stands on the standard library and pydantic alone, and its data flows one way."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import companion.planning

CORE = Path(companion.planning.__file__).parent
ALLOWED = {
    "__future__", "bisect", "collections", "contextlib", "csv", "dataclasses", "datetime", "fractions", "functools",
    "html", "io", "itertools", "math", "operator", "pydantic", "re", "types", "typing",
}  # fmt: skip

ROOMS = ("stitches", "request", "plan", "fit", "gauge", "fabric", "yarn", "construction")
"""In the order of the data; each knows those before it."""

SIDE_BY_SIDE = ("recalculation", "pattern")
"""Both come after all rooms, and neither knows the other."""


def imports(path: Path) -> Iterator[tuple[int, str]]:
    """The level and the module of each import: 0 for absolute ones, 1 for the folder that the file is in, and so on."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            yield from ((0, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            # "from .. import faults" names the modules themselves.
            yield from ((node.level, node.module or alias.name) for alias in node.names)


def test_the_core_imports_nothing_but_pure_modules() -> None:
    for path in CORE.rglob("*.py"):
        for level, module in imports(path):
            assert level or module.split(".")[0] in ALLOWED, f"{path} imports {module}"


def test_the_core_comes_without_the_web() -> None:
    script = (
        "import sys, companion.planning;"
        "print([name for name in ('flask', 'sqlite3', 'companion.web', 'companion.store') if name in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_a_room_knows_only_those_before_it() -> None:
    known = {
        **{room: {*ROOMS[: ROOMS.index(room)]} for room in ROOMS},
        **{room: {*ROOMS} for room in SIDE_BY_SIDE},
    }
    seen = set()
    for path in CORE.rglob("*.py"):
        folders = path.relative_to(CORE).parent.parts
        if not folders:
            continue
        for level, module in imports(path):
            if level == len(folders) + 1:
                other = module.split(".")[0]
                assert other in {"faults", "frozen_model", "units"} | known[folders[0]], f"{path} imports {module}"
                seen.add(other)
            assert level <= len(folders) + 1, f"{path} imports what is outside of the core"
    assert seen >= {*ROOMS, "faults", "frozen_model", "units"}


def test_what_the_core_hands_out_is_taken_from_there() -> None:
    public = set(companion.planning.__all__)
    for path in CORE.parent.rglob("*.py"):
        if CORE in path.parents:
            continue
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("planning."):
                taken = public & {alias.name for alias in node.names}
                assert not taken, f"{path} takes {taken} from {node.module}, not from planning"
