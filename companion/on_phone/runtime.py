"""The Python for browsers: fetched from the package registries once, and checked against what is pinned here.

It is Pyodide (MPL-2.0), CPython compiled to WebAssembly, with pydantic's compiled part for the same. An installation
without it works as ever, and offers nothing of it.
"""

from __future__ import annotations

import gzip
import hashlib
import os
import shutil
import subprocess
import sys
import tarfile
import tempfile
import zipfile
import zlib
from collections.abc import Mapping
from contextlib import suppress
from importlib.metadata import version
from pathlib import Path

FOLDER = "runtime"
"""Of the data folder."""
PACKED = ".gz"
"""How the names of its files end that were compressed."""

PYODIDE = "314.0.7"
PYTHON = "3.14"
PLATFORM = "pyemscripten_2026_0_wasm32"
CORE = "2.50.5"
"""Of pydantic-core: has to be the one that this server runs on, because pydantic takes no other."""

ENGINE: Mapping[str, str] = {
    "pyodide.mjs": "6f1d60f7bf529beb300f0f47983c921d3982363640ba20af0e38efdddbc66109",
    "pyodide.asm.mjs": "f7cdc8ece80678ceb712f8e65ebe6d3a83203a180c399865f49612a051693635",
    "pyodide.asm.wasm": "cc36e3cab04fdfc9a63ff13eb52eae2b911bf46c025cc7b281f394bd3de1d5e6",
    "python_stdlib.zip": "fa1957e5777068fc4f7437f96d860ae2fbe9c19732ba06c84e004ec16dd7dd7a",
    "pyodide-lock.json": "5dc2fc119108bc148c7457dc86e7675b5c87e1cafd420b9c34c1eaef7b36c010",
}
"""The files of the npm package that a page needs, with their SHA-256."""
LIBRARY: Mapping[str, str] = {"core.zip": "b2910ec0fa5aeb9bef70156f2b79f4783978fdcfaa7b2f1b5d1814458d2e79a1"}
"""The wheel of pydantic-core for that Python; a wheel is a zip archive."""
FILES: Mapping[str, str] = {**ENGINE, **LIBRARY}


class RuntimeUnavailableError(Exception):
    """It cannot be fetched; the message says why and what to do."""


def installed(folder: Path) -> bool:
    """Whether the runtime is in a folder, whole, and goes with the libraries of this server."""
    return version("pydantic-core") == CORE and size(folder) > 0


def size(folder: Path) -> int:
    """The bytes of the runtime in a folder; 0 unless all of it is there as it was pinned."""
    whole = all(_sum(folder / name) == wanted for name, wanted in FILES.items())
    return sum((folder / name).stat().st_size for name in FILES) if whole else 0


def _sum(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return ""


def library(folder: Path) -> tuple[str, bytes]:
    """The compiled library in a runtime: its path among the modules, and what it is."""
    with zipfile.ZipFile(folder / "core.zip") as wheel:
        [name] = [name for name in wheel.namelist() if name.endswith(".so")]
        return name, wheel.read(name)


def packed(folder: Path, body: bytes) -> bytes:
    """A file of the runtime in a folder, by gzip (RFC 1952). It stays there: a small computer needs seconds for it."""
    kept = folder / f"{hashlib.sha256(body).hexdigest()}{PACKED}"
    with suppress(OSError, EOFError, zlib.error):
        found = kept.read_bytes()
        if gzip.decompress(found) == body:
            return found
    made = gzip.compress(body, 6, mtime=0)
    with suppress(OSError):  # a folder that only can be read has each start make it
        new = kept.with_name(f"{kept.name}.{os.getpid()}")
        new.write_bytes(made)
        new.replace(kept)
    return made


def fetch(folder: Path) -> int:
    """Bring the runtime into a folder; answers with its bytes. Raises RuntimeUnavailableError, OSError."""
    with tempfile.TemporaryDirectory() as temporary:
        found = Path(temporary)
        _engine(found)
        _library(found)
        for name, wanted in FILES.items():
            if _sum(found / name) != wanted:
                raise RuntimeUnavailableError(f"{name} is not the file that was pinned, so nothing was taken in")
        folder.mkdir(parents=True, exist_ok=True)
        for of_an_earlier_one in folder.glob(f"*{PACKED}*"):
            of_an_earlier_one.unlink()
        for name in FILES:
            shutil.copyfile(found / name, folder / f"{name}.new")
            (folder / f"{name}.new").replace(folder / name)
    return size(folder)


def _engine(folder: Path) -> None:
    _run("npm", "pack", "--silent", "--pack-destination", str(folder), f"pyodide@{PYODIDE}")
    [packed] = folder.glob("*.tgz")
    with tarfile.open(packed) as archive:
        for name in ENGINE:
            _written(archive, f"package/{name}", folder / name)


def _written(archive: tarfile.TarFile, name: str, path: Path) -> None:
    try:
        member = archive.extractfile(name)
    except KeyError:
        member = None
    if member is None:
        raise RuntimeUnavailableError(f"pyodide {PYODIDE} has no {name}")
    path.write_bytes(member.read())


def _library(folder: Path) -> None:
    asked = ["--platform", PLATFORM, "--python-version", PYTHON, "--implementation", "cp", "--abi", "cp314"]
    quiet = ["--quiet", "--disable-pip-version-check", "--no-deps", "--only-binary", ":all:", "--dest", str(folder)]
    _run(sys.executable, "-m", "pip", "download", *quiet, *asked, f"pydantic_core=={CORE}")
    [wheel] = folder.glob("*.whl")
    wheel.rename(folder / "core.zip")


def _run(*command: str) -> None:
    try:
        subprocess.run(command, check=True, capture_output=True, text=True)
    except FileNotFoundError:
        raise RuntimeUnavailableError(f"{command[0]} is needed to fetch it; install it and try again") from None
    except subprocess.CalledProcessError as error:
        said = (error.stderr or error.stdout or "").strip().splitlines()
        why = said[-1] if said else f"it ended with {error.returncode}"
        raise RuntimeUnavailableError(f"{Path(command[0]).name} could not fetch it: {why}") from None
