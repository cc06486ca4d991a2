"""Static files, all under one version in their address, so that files of two versions never meet in a page."""

from __future__ import annotations

import gzip
import hashlib
import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import quote

from flask import Blueprint, Flask, Response, abort, current_app, jsonify, make_response, render_template, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from .compression import is_text, takes_gzip
from .security import YEAR

# Named here because the system's own table, which Python would ask, differs from one computer to the next.
TYPES = {
    ".css": "text/css",
    ".js": "text/javascript",
    ".png": "image/png",
    ".svg": "image/svg+xml",
}
NEEDED_OFFLINE = {".css", ".js", ".svg"}

_COMMENT = re.compile(r"^[ \t]*(?:/\*(?:(?!\*/).)*\*/|//[^\n]*)[ \t]*$", re.MULTILINE | re.DOTALL)
"""A comment that has its lines to itself."""
_INDENT = re.compile(r"^[ \t]+", re.MULTILINE)
_PART = re.compile(r'^@import "(\./[^"]+)";$', re.MULTILINE)
"""A part of a style sheet. It goes out within that, because each file of its own would cost a page another request."""

VERSION_LENGTH = 16
"""Hexadecimal digits: 64 bits, far more than there will ever be versions."""

bp = Blueprint("assets", __name__)


@dataclass(frozen=True)
class StaticFile:
    """A file as it goes out; `packed` is None where compression does not help."""

    mimetype: str
    body: bytes
    packed: bytes | None


@dataclass(frozen=True)
class Assets:
    """Every static file as it was when the program started."""

    version: str
    files: dict[str, StaticFile]

    def offline(self) -> list[str]:
        """The paths that the pages need where there is no network."""
        return [path for path in self.files if Path(path).suffix in NEEDED_OFFLINE]


def _files_in(folder: Path) -> list[Path]:
    return sorted(path for path in folder.rglob("*") if path.is_file())


def _version(folders: Iterable[Path]) -> str:
    digest = hashlib.sha256()
    for folder in folders:
        for path in _files_in(folder):
            body = path.read_bytes()
            digest.update(f"{path.relative_to(folder).as_posix()}\0{len(body)}\0".encode())
            digest.update(body)
    return digest.hexdigest()[:VERSION_LENGTH]


def without_comments(code: str) -> str:
    """JS or CSS as it goes out: what is there for its readers stays here, because a phone would load a third more.

    That is its comments, and what its lines begin with. Lines keep their numbers, so that an error names a line as it
    is in the file.
    """
    return _INDENT.sub("", _COMMENT.sub(lambda found: "\n" * found[0].count("\n"), code))


def _parts(path: Path) -> set[Path]:
    return {path.parent / name for name in _PART.findall(path.read_text("utf-8"))} if path.suffix == ".css" else set()


def _code(path: Path) -> str:
    """A script or a style sheet as it goes out, with all its parts."""
    code = without_comments(path.read_text("utf-8"))
    return _PART.sub(lambda found: _code(path.parent / found[1]).strip(), code) if path.suffix == ".css" else code


def _body(path: Path) -> bytes:
    return _code(path).encode() if path.suffix in {".css", ".js"} else path.read_bytes()


def read_assets(static: Path, templates: Path) -> Assets:
    """Read the static files. The version also covers the templates: the worker keeps pages made of them."""
    files = {}
    found = _files_in(static)
    parts = set().union(*map(_parts, found))
    for path in found:
        if path not in parts and (mimetype := TYPES.get(path.suffix)):
            body = _body(path)
            packed = gzip.compress(body, 9, mtime=0) if is_text(mimetype) else None
            files[path.relative_to(static).as_posix()] = StaticFile(mimetype, body, packed)
    return Assets(_version([static, templates]), files)


def _assets() -> Assets:
    found: Assets = current_app.extensions["assets"]
    return found


def static_url(path: str) -> str:
    """The address of a static file in this version."""
    # Not by `url_for`, which fails where the request's Host cannot be read: the page that says so has files too.
    return f"/static/{_assets().version}/{quote(path)}"


def stylesheets(*names: str) -> Markup:
    """The links to style sheets for the head of a page."""
    link = Markup('<link rel="stylesheet" href="{}">')
    return Markup("\n").join(link.format(static_url(f"css/{name}.css")) for name in names)


@bp.get("/static/<version>/<path:path>")
def static_file(version: str, path: str) -> ResponseReturnValue:
    """A static file, good for a year: other contents have another address."""
    assets = _assets()
    found = assets.files.get(path)
    if found is None or version != assets.version:
        abort(404, "This file belongs to another version of Tapeline. Load the page again.")
    response = make_response(found.body)
    if found.packed is not None and takes_gzip():
        response.set_data(found.packed)
        response.headers["Content-Encoding"] = "gzip"
    response.mimetype = found.mimetype
    response.headers["Cache-Control"] = f"public, max-age={YEAR}, immutable"
    return response


@bp.get("/sw.js")
def worker() -> Response:
    """The service worker, with the version and the list of what it keeps for times without network."""
    shell = [
        url_for(page)
        for page in (
            "pages.index",
            "pages.knit_shell",
            "checks.check_shell",
            "pages.made_here_shell",
            "assets.manifest",
        )
    ]
    shell += [static_url(path) for path in _assets().offline()]
    response = make_response(render_template("sw.js", version=_assets().version, shell=shell))
    response.mimetype = "text/javascript"
    return response


@bp.get("/manifest.webmanifest")
def manifest() -> Response:
    """The web app manifest: with it a phone offers to keep the page among its apps."""
    response = jsonify(
        id="/",
        name="Tapeline",
        short_name="Tapeline",
        description="Plans a pair of socks from a measured foot and counts every round with you.",
        lang="en",
        start_url="/",
        scope="/",
        display="standalone",
        background_color="#faf6ee",
        theme_color="#f3c94b",
        icons=[_icon(path) for path in _assets().files if path.startswith("icons/")],
    )
    response.mimetype = "application/manifest+json"
    return response


def _icon(path: str) -> dict[str, str]:
    size = re.search(r"(\d+)\.png\Z", path)
    return {
        "src": static_url(path),
        "type": TYPES[Path(path).suffix],
        "sizes": f"{size[1]}x{size[1]}" if size else "any",
        "purpose": "maskable" if "maskable" in path else "any",
    }


def init_app(app: Flask, static: Path, templates: Path) -> None:
    """Serve the static files, and give `static_url` and `stylesheets` to the templates."""
    app.extensions["assets"] = read_assets(static, templates)
    app.jinja_env.globals |= {"static_url": static_url, "stylesheets": stylesheets}
    app.register_blueprint(bp)
