"""Smaller answers: text goes out gzipped where the browser takes it."""

from __future__ import annotations

import gzip

from flask import Flask, Response, request

SHORTEST = 600
"""Bytes; below that the packet is the same."""

LEVEL = 6


def is_text(mimetype: str) -> bool:
    """Whether content of this type gets smaller by compression."""
    return mimetype.startswith("text/") or mimetype in {
        "application/json",
        "application/manifest+json",
        "image/svg+xml",
    }


def takes_gzip() -> bool:
    """Whether the browser of this request takes gzip."""
    return request.accept_encodings["gzip"] > 0


def _compress(response: Response) -> Response:
    if not is_text(response.mimetype or ""):
        return response
    response.vary.add("Accept-Encoding")
    body = response.get_data() if not response.is_streamed else b""
    if len(body) < SHORTEST or "Content-Encoding" in response.headers or not takes_gzip():
        return response
    # A fixed time in the header keeps equal pages equal.
    response.set_data(gzip.compress(body, LEVEL, mtime=0))
    response.headers["Content-Encoding"] = "gzip"
    return response


def init_app(app: Flask) -> None:
    """Compress what the app answers."""
    app.after_request(_compress)
