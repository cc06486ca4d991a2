"""The modules that run on a phone, asked in their Python for browsers as a phone asks them."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

from companion.on_phone.code import code_archive
from companion.on_phone.runtime import installed, library
from companion.resources import STATIC

from . import RUNTIME

_NODE = shutil.which("node")
HERE = bool(_NODE and installed(RUNTIME))


def answered_on_phone(folder: Path, asked: list[tuple[str, dict[str, Any]]]) -> list[Any]:
    """The answers of a Python that begins by an image; None for each question that has none."""
    assert _NODE
    name, compiled = library(RUNTIME)
    (folder / "library.so").write_bytes(compiled)
    (folder / "code.zip").write_bytes(code_archive())
    (folder / "questions.json").write_text(json.dumps(asked))
    shutil.copy(STATIC / "js/phone/start-python.js", folder / "begun.mjs")
    ask = Path(__file__).with_name("ask.mjs")
    run = subprocess.run([_NODE, ask, RUNTIME, name, folder], capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr[-2000:]
    answers: list[Any] = json.loads(run.stdout)
    return answers
