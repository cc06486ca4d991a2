"""Documents for a browser to save."""

from __future__ import annotations

import re

from flask import Response


def to_save(
    text: str, title: str, default: str, ending: str = "tapeline.json", content_type: str = "application/json"
) -> Response:
    """A document under a file's name made of its title, or of another word where that has no letters."""
    name = re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-") or default
    response = Response(text, content_type=content_type)
    response.headers["Content-Disposition"] = f'attachment; filename="{name}.{ending}"'
    return response
