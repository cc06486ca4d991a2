"""Deleting a pair or a design for good: each is asked about once, on a page that says what goes and what stays."""

from __future__ import annotations

from flask import Blueprint, render_template, request
from flask.typing import ResponseReturnValue

from .group.open_design import own_design
from .open_pair import find_pair, store
from .what_was_done import redirect_saying

bp = Blueprint("deleting", __name__)

DAY = 24 * 60 * 60
"""Seconds for which the browser is told again what to take away, should its script not be there the first time."""


@bp.get("/pair/<link>/delete")
def ask_pair(link: str) -> ResponseReturnValue:
    """Whether the pair is to be deleted. It need not be whole for that."""
    return render_template("lib/delete.html", what="pair", link=link, title=find_pair(link).title)


@bp.post("/pair/<link>/delete")
def delete_pair(link: str) -> ResponseReturnValue:
    """Delete the pair with everything in it."""
    store().deleting.pair(find_pair(link))
    return _deleted("pair", link)


@bp.get("/design/<link>/delete")
def ask_design(link: str) -> ResponseReturnValue:
    """Whether the design is to be deleted."""
    opened = own_design(link)
    return render_template(
        "lib/delete.html",
        what="design",
        link=link,
        title=opened.design.title,
        followers=store().designs.count_followers(opened.version.design),
    )


@bp.post("/design/<link>/delete")
def delete_design(link: str) -> ResponseReturnValue:
    """Delete the design; the pairs that follow it go on as pairs of their own."""
    store().deleting.design(own_design(link).version.design)
    return _deleted("design", link)


def _deleted(what: str, link: str) -> ResponseReturnValue:
    """Lead to the first page, whose script takes the link away in this browser.

    A cookie tells it which: no other site can set one, so that no address alone makes a browser forget a pair.
    """
    answer = redirect_saying("pages.index", f"{what}-deleted")
    answer.set_cookie("deleted", f"{what}.{link}", max_age=DAY, samesite="Strict", secure=request.is_secure)
    return answer
