"""Pages of a pair that a browser has already: "304 Not Modified" before anything is calculated (RFC 9110, 15.4.5).

The name of a page's content (its entity tag) is made from all that the page is made from, which is read at a glance:
it has to be known before there is a page. It is a weak one: a token in a page is signed again each time, and a
compressed page has the same name.
"""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Callable
from functools import wraps
from http import HTTPStatus
from typing import TypeAlias

from flask import Flask, Response, current_app, make_response, request, session
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import generate_csrf  # type: ignore[import-untyped]

from ...group.stages import day_at
from ...store import Pair
from ..group.open_design import newest_design
from ..open_pair import find_pair, store

View: TypeAlias = Callable[[str], ResponseReturnValue]
"""Answers for a pair by its link."""


def unless_unchanged(*, token: bool) -> Callable[[View], View]:
    """A view that is asked only where the browser's copy is old; `token` says whether its page has one for forms."""

    def checked(view: View) -> View:
        @wraps(view)
        def answer(link: str) -> ResponseReturnValue:
            name = _name(find_pair(link), token=token)
            if request.if_none_match.contains_weak(name):
                response = Response(status=HTTPStatus.NOT_MODIFIED)
            else:
                response = make_response(view(link))
            if response.status_code in (HTTPStatus.OK, HTTPStatus.NOT_MODIFIED):
                response.set_etag(name, weak=True)
            return response

        return answer

    return checked


def _name(pair: Pair, *, token: bool) -> str:
    """The name of what a page would have; read before the page is, so that a change in between makes a name too old."""
    parts = (
        current_app.extensions["run"],
        request.endpoint,
        request.query_string,
        request.host_url,  # of the links to copy
        store().state(pair),
        _leaders_day(pair),
        _session() if token else "",
    )
    return hashlib.sha256(repr(parts).encode("utf-8", "surrogatepass")).hexdigest()[:32]


def _leaders_day(pair: Pair) -> str:
    """The day that it is for the stages of the design that a pair follows."""
    taken = store().designs.followed_by(pair)
    return day_at(store().moment(), newest_design(taken.design).design.time_zone).isoformat() if taken else ""


def _session() -> str:
    """What the tokens of this browser are checked against: one in a page that it has kept is good while this is."""
    generate_csrf()  # a new browser gets it now
    return str(session["csrf_token"])


def init_app(app: Flask) -> None:
    """Name this run of the program: the next one may be of another version."""
    app.extensions["run"] = secrets.token_hex(8)
