"""Announcements: a leader says something to all who follow her design, and each puts it away when she has seen it."""

from __future__ import annotations

from flask import Blueprint, abort, jsonify, request
from flask.typing import ResponseReturnValue

from ....pair.logbook import HIGHEST_CLOCK
from ...open_pair import find_pair, store
from ...request_args import whole_number
from ...server import quotas
from ...what_was_done import redirect_saying
from ..open_design import changeable_design, led_design

LONGEST = 500
"""Letters of an announcement (ours): it is read beside a round."""

bp = Blueprint("announcing", __name__)


@bp.post("/design/<link>/tell")
def tell(link: str) -> ResponseReturnValue:
    """Say something to all who follow the design."""
    design = changeable_design(link).version.design
    lines = (" ".join(line.split()) for line in request.form.get("words", "").splitlines())
    words = "\n".join(line for line in lines if line)
    if not 0 < len(words) <= LONGEST or not words.replace("\n", " ").isprintable():
        abort(400, f"An announcement of 1 to {LONGEST} letters is needed. Go back and change it.")
    quotas.take(quotas.DESIGNS)
    store().announcements.add(design, words)
    return redirect_saying("designs.lead", "told", link=link)


@bp.post("/design/<link>/tell/remove")
def remove(link: str) -> ResponseReturnValue:
    """Take an announcement back."""
    store().announcements.remove(led_design(link).version.design, _number())
    return redirect_saying("designs.lead", "announcement-removed", link=link)


@bp.post("/pair/<link>/seen")
def seen(link: str) -> ResponseReturnValue:
    """Put away what a pair was told, up to a number: from a form, or by the knit page."""
    pair = find_pair(link)
    if store().designs.followed_by(pair) is None:
        abort(404, "This pair follows no design.")
    store().announcements.see(pair, _number())
    if request.is_json:
        return jsonify({})
    return redirect_saying("pages.plan", "announcements-seen", link=link)


def _number() -> int:
    given = whole_number("number")
    if request.is_json:
        body = request.get_json()
        given = body.get("number") if isinstance(body, dict) else None
    if not isinstance(given, int) or not 0 <= given <= HIGHEST_CLOCK:
        abort(400, "An announcement is known by its number. Open the page again.")
    return given
