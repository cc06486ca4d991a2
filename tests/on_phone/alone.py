"""The archive for phones run by a Python that has nothing else but the compiled part of pydantic."""

from __future__ import annotations

import io
import json
import subprocess
import sys
import zipfile
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from companion.on_phone.code import code_archive

ALONE = """
import json, sys
sys.path[:] = [sys.argv[1], *(path for path in sys.path if "site-packages" not in path and path)]
from companion.on_phone.{module} import {names}
asked = json.load(sys.stdin)
print(json.dumps({answer}))
print(sorted({{name.split(".")[0] for name in sys.modules}} & {{"flask", "sqlite3", "werkzeug"}}), file=sys.stderr)
"""


def unpack(folder: Path) -> None:
    """Unpack the archive, with the compiled part of pydantic beside it."""
    zipfile.ZipFile(io.BytesIO(code_archive())).extractall(folder)
    core = find_spec("pydantic_core")
    assert core
    assert core.origin
    for compiled in Path(core.origin).parent.glob("*.so"):
        (folder / "pydantic_core" / compiled.name).symlink_to(compiled)


def answered_alone(folder: Path, asked: Any, module: str, names: str, answer: str) -> Any:
    """What `answer`, an expression of `asked` and of names from a module of `on_phone`, gives where it is unpacked."""
    run = subprocess.run(
        [sys.executable, "-I", "-c", ALONE.format(module=module, names=names, answer=answer), str(folder)],
        input=json.dumps(asked),
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    assert run.stderr.strip() == "[]"
    return json.loads(run.stdout)
