"""Sock two, once sock one was changed: by which plan it is knitted."""

from __future__ import annotations

from functools import partial

from flask import Blueprint, abort, render_template, request
from flask.typing import ResponseReturnValue

from ....pair.changing.accepted import Accepted
from ....pair.changing.second_sock import second_sock_chosen, second_sock_shown, second_sock_taken
from ....planning.recalculation.second_sock_options import same_sock
from ...open_pair import OpenPair, open_pair
from ...request_args import whole_number
from ...revising import accept_or_409
from ...what_was_done import redirect_to_knit

BEGUN = "Sock two is begun, and a sock that is begun goes on by its own plan."

bp = Blueprint("second_sock", __name__)


@bp.get("/pair/<link>/second")
def options(link: str) -> ResponseReturnValue:
    """The three ways to knit sock two, each with its sizes and what is different from sock one."""
    return render_template("pair/second.html", link=link, **second_sock_shown(open_pair(link)))


@bp.post("/pair/<link>/second")
def choose(link: str) -> ResponseReturnValue:
    """Knit sock two by one of them, from its cast-on."""
    pair = open_pair(link)
    accept_or_409(pair, {"newest": pair.newest}, partial(_chosen, pair))
    return redirect_to_knit(link, "sock-two")


def _chosen(pair: OpenPair) -> Accepted | None:
    """The plan in the form; None for the one that was chosen already."""
    if pair.done[2] or whole_number("round_2"):
        abort(409, BEGUN)
    accepted = second_sock_taken(pair, request.form.get("choice", ""))
    if accepted is None:
        abort(422, "Choose one of the ways to knit sock two. Go back to them.")
    return None if same_sock(accepted.plan, pair.plan(2)) and second_sock_chosen(pair.revisions) else accepted
