"""Whether the server is well, for whatever watches it: without a cookie, and without a word about anybody's pairs."""

from __future__ import annotations

from http import HTTPStatus

from flask import Blueprint, Response, request

from ...store import StoreError
from ..open_pair import store

bp = Blueprint("health", __name__)


@bp.get("/health")
def health() -> Response:
    """Answers “well” while the process answers at all; with `?deep` only while what is kept can be read, else 503."""
    if "deep" in request.args:
        try:
            store().epoch()
        except StoreError:
            return _says("the kept data cannot be read", HTTPStatus.SERVICE_UNAVAILABLE)
    return _says("well", HTTPStatus.OK)


def _says(words: str, status: HTTPStatus) -> Response:
    return Response(f"{words}\n", status, mimetype="text/plain")
