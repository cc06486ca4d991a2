"""The modules of a phone compiled to byte code, once: the Python of the server may be of another version."""

from __future__ import annotations

import compileall
import io
import zipfile
from pathlib import Path
from py_compile import PycInvalidationMode


def compiled_archive(folder: str) -> bytes:
    """All that is in a folder as a zip archive with byte code in place of sources.

    It is not compressed: it stays where it was made, and a phone begins sooner with it. Raises ValueError where a
    module does not compile.
    """
    checked = PycInvalidationMode.UNCHECKED_HASH  # the same bytes each time, and no source to be compared with
    if not compileall.compile_dir(folder, quiet=2, legacy=True, invalidation_mode=checked):
        raise ValueError("a module does not compile")
    root = Path(folder)
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w") as packed:
        for path in sorted(root.rglob("*")):
            if path.is_file() and path.suffix != ".py" and "__pycache__" not in path.parts:
                packed.writestr(zipfile.ZipInfo(path.relative_to(root).as_posix()), path.read_bytes())
    return archive.getvalue()
