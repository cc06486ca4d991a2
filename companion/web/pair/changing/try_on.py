"""What the newest try-on of a sock means for its rest: the ways to go on, and accepting one."""

from __future__ import annotations

from functools import partial

from flask import Blueprint, abort, render_template, request
from flask.typing import ResponseReturnValue

from ....pair.changing.accepted import Accepted
from ....pair.changing.tried_on import FitResult, fit_shown, fit_taken
from ...open_pair import open_pair
from ...revising import accept_or_409
from ...what_was_done import redirect_to_knit
from ..sock_position import position_asked

bp = Blueprint("try_on", __name__)


@bp.get("/pair/<link>/fit")
def options(link: str) -> ResponseReturnValue:
    """The ways to go on after the newest try-on, for the place in the address (`?sock=1&round=85`)."""
    pair = open_pair(link)
    return render_template("pair/fit.html", link=link, **fit_shown(FitResult(pair, position_asked(pair))))


@bp.post("/pair/<link>/fit")
def accept(link: str) -> ResponseReturnValue:
    """Knit on by one of them."""
    pair = open_pair(link)
    position = position_asked(pair)
    result = FitResult(pair, position)
    did = accept_or_409(pair, {"basis": result.basis}, partial(_chosen, result), position)
    return redirect_to_knit(link, did)


def _chosen(result: FitResult) -> Accepted | None:
    """The way to go on in the form; None to leave it."""
    accepted = fit_taken(result, request.form.get("choice", ""))
    if accepted is None:
        abort(422, "Choose one of the ways to go on. Go back to them.")
    return None if accepted.plan == result.position.plan else accepted
