"""Where the templates, the static files and the sample projects are."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def _folder(name: str) -> Path:
    # A wheel carries the folder inside the package; in a checkout it stands beside the package.
    inside = _PACKAGE / name
    return inside if inside.is_dir() else _PACKAGE.parent / name


TEMPLATES = _folder("templates")
STATIC = _folder("static")
SAMPLE_PROJECTS = _folder("sample_projects")
