"""The rules of pairs and groups stand on the planning core alone: they hold also without server and store."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

import companion

from ..planning.test_purity import ALLOWED, imports

ROOMS = Path(companion.__file__).parent
KNOWN = {
    "drawings": {"planning"},
    "pair": {"planning", "drawings", "strict_json", "words"},
    "group": {"planning", "pair", "strict_json", "words"},
    "forms": {"planning", "drawings", "pair", "words"},
}
"""What a room may know of the package beside itself."""

LIBRARIES = {
    *ALLOWED,
    "base64",
    "hashlib",
    "json",
    "markupsafe",
    "operator",
    "qrcode",
    "resvg_py",
    "statistics",
    "uuid",
    "wtforms",
    "zlib",
    "zoneinfo",
}


@pytest.mark.parametrize("room", KNOWN)
def test_rules_drawings_and_forms_know_neither_the_web_nor_the_store(room: str) -> None:
    seen = set()
    for path in (ROOMS / room).rglob("*.py"):
        package = 1 + len(path.relative_to(ROOMS / room).parts)
        for level, module in imports(path):
            first = module.split(".")[0]
            assert level <= package, f"{path} imports what is outside of the package"
            if level == 0:
                assert first in LIBRARIES, f"{path} imports {module}"
            elif level == package:
                assert first in KNOWN[room], f"{path} imports {module}"
                seen.add(first)
    assert seen == KNOWN[room]


def test_rules_drawings_and_forms_come_without_the_web() -> None:
    files = [path.relative_to(ROOMS).with_suffix("") for room in KNOWN for path in (ROOMS / room).rglob("*.py")]
    names = [f"companion.{'.'.join(path.parts)}".removesuffix(".__init__") for path in files]
    script = (
        f"import sys, importlib; [importlib.import_module(name) for name in {names!r}];"
        "print([name for name in ('flask', 'sqlite3', 'companion.web', 'companion.store') if name in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
