"""Deleting a pair or a design for good: each is asked about once, on a page that says what goes and what stays."""

from __future__ import annotations

from flask import Blueprint, render_template
from flask.typing import ResponseReturnValue

from .answers import redirect_told
from .group.open_design import led_design
from .open_pair import find_pair, store

bp = Blueprint("deleting", __name__)


@bp.get("/pair/<link>/delete")
def ask_pair(link: str) -> ResponseReturnValue:
    """Whether the pair is to be deleted. It need not be whole for that."""
    return render_template("lib/delete.html", what="pair", link=link, title=find_pair(link).title)


@bp.post("/pair/<link>/delete")
def delete_pair(link: str) -> ResponseReturnValue:
    """Delete the pair with everything in it."""
    store().deleting.pair(find_pair(link))
    return redirect_told("pages.index", "pair-deleted", _anchor=link)


@bp.get("/design/<link>/delete")
def ask_design(link: str) -> ResponseReturnValue:
    """Whether the design is to be deleted."""
    opened = led_design(link)
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
    store().deleting.design(led_design(link).version.design)
    return redirect_told("pages.index", "design-deleted", _anchor=link)
