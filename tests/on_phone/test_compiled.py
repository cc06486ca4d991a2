"""The byte code that a phone makes of its modules does the same as they do, without them."""

from __future__ import annotations

import io
import subprocess
import sys
import zipfile
from pathlib import Path

from companion.on_phone.compiled import compiled_archive

ASKED = "import sys; sys.path.insert(0, sys.argv[1]); from rib.knit import row; print(row(3))"


def test_byte_code_takes_the_place_of_sources_and_all_else_stays(tmp_path: Path) -> None:
    rib = tmp_path / "site" / "rib"
    rib.mkdir(parents=True)
    (rib / "__init__.py").write_text("")
    (rib / "knit.py").write_text("def row(ribs):\n    return 'k1 p1 ' * ribs\n")
    (rib / "page.html").write_text("<p>")
    made = compiled_archive(str(tmp_path / "site"))
    assert made == compiled_archive(str(tmp_path / "site"))
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        assert archive.namelist() == ["rib/__init__.pyc", "rib/knit.pyc", "rib/page.html"]
        archive.extractall(tmp_path / "phone")
    run = subprocess.run(
        [sys.executable, "-I", "-c", ASKED, tmp_path / "phone"], capture_output=True, text=True, check=False
    )
    assert run.stdout == "k1 p1 k1 p1 k1 p1 \n", run.stderr
