"""The Python for browsers and the modules that run on it, for phones that are to calculate by themselves."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from flask import Blueprint, Flask, Response, abort, current_app, jsonify, make_response
from flask.typing import ResponseReturnValue

from ...on_phone.code import code_archive
from ...on_phone.runtime import ENGINE, LIBRARY, installed, library, packed
from ..server.compression import takes_gzip
from ..server.security import YEAR

bp = Blueprint("on_phone", __name__)

CODE = "code.zip"
WASM = "application/wasm"
TYPES = {".mjs": "text/javascript", ".wasm": WASM, ".so": WASM, ".zip": "application/zip", ".json": "application/json"}


@dataclass(frozen=True)
class Part:
    """A file as it goes out, under a digest of all that has to go with it."""

    digest: str
    body: bytes
    packed: bytes | None

    @property
    def bytes(self) -> int:
        """What a phone loads of it."""
        return len(self.packed or self.body)


def _parts(folder: Path) -> Mapping[str, Part]:
    code = code_archive()
    engine, core = (_digest("".join(pinned.values()).encode()) for pinned in (ENGINE, LIBRARY))
    name, compiled = library(folder)

    def as_sent(digest: str, name: str, body: bytes) -> Part:
        # Archives are compressed.
        return Part(digest, body, None if name.endswith(".zip") else packed(folder, body))

    return {
        **{name: as_sent(engine, name, (folder / name).read_bytes()) for name in ENGINE},
        name: as_sent(core, name, compiled),
        CODE: as_sent(_digest(code), CODE, code),
    }


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:16]


def _here() -> Mapping[str, Part]:
    parts: Mapping[str, Part] = current_app.extensions["on_phone"]
    return parts


@bp.get("/runtime")
def index() -> Response:
    """What a phone loads to calculate by itself: its bytes, and where each file is; no bytes where there is none."""
    parts = _here()
    files = {name: f"/runtime/{part.digest}/{name}" for name, part in parts.items()}
    return jsonify(bytes=sum(part.bytes for part in parts.values()), files=files)


@bp.get("/runtime/<version>/<path:path>")
def part(version: str, path: str) -> ResponseReturnValue:
    """One of these files, good for a year: other contents have another address."""
    found = _here().get(path)
    if found is None or version != found.digest:
        abort(404)
    packed = found.packed if takes_gzip() else None
    response = make_response(packed or found.body)
    if packed:
        response.headers["Content-Encoding"] = "gzip"
    response.mimetype = TYPES[Path(path).suffix]
    response.headers["Cache-Control"] = f"public, max-age={YEAR}, immutable"
    return response


def init_app(app: Flask) -> None:
    """Read the files once, where they are."""
    folder: Path | None = app.config["RUNTIME"]
    app.extensions["on_phone"] = _parts(folder) if folder and installed(folder) else {}
