"""The planning core stands on the standard library and pydantic alone, so it can run anywhere."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import companion.planning

CORE = Path(companion.planning.__file__).parent
ALLOWED = {
    "__future__", "bisect", "collections", "contextlib", "csv", "dataclasses", "datetime", "fractions", "functools",
    "html", "io", "itertools", "math", "pydantic", "re", "types", "typing",
}  # fmt: skip


def test_the_core_imports_nothing_but_pure_modules() -> None:
    for path in CORE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text())):
            names = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom) and not node.level:
                names = [node.module or ""]
            assert {name.split(".")[0] for name in names} <= ALLOWED, path


def test_the_core_comes_without_the_web() -> None:
    script = (
        "import sys, companion.planning.planner, companion.planning.recalculation, companion.planning.words;"
        "print([name for name in ('flask', 'sqlite3', 'companion.web', 'companion.store') if name in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_a_module_knows_only_those_to_its_left() -> None:
    order = [
        "faults", "rib", "units", "spread", "request", "feet", "shoe_sizes", "fit", "document", "design", "work",
        "heights", "stepwise", "chart", "counts", "choices", "colours", "yarn",
        "sections", "sizes", "verdicts", "cautions", "construction", "reading", "planner", "second_sock", "check",
        "weighted", "observed", "facts", "changes", "matching", "evidence", "way_words",
        "ways", "needle_change", "decision", "options", "try_on", "recalculation", "sums", "check_places",
        "weighing", "yarn_left", "leg_reach", "needle_words", "needles", "words",
        "tables", "size_range", "grid",
        "brackets", "passages", "chart_words", "graded", "pattern", "pattern_text",
    ]  # fmt: skip
    for path in CORE.rglob("*.py"):
        here = path.relative_to(CORE).with_suffix("").parts[0]
        if here == "__init__":
            continue
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.ImportFrom) and node.level:
                top = (node.module or "").split(".")[0]
                inside_sections = here == "sections" and node.level == 1
                if not inside_sections and top:
                    assert order.index(top) < order.index(here), f"{path.name} imports {top}"
