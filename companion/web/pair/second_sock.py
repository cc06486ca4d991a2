"""Sock two, once sock one was changed: by which plan it is knitted."""

from __future__ import annotations

from functools import partial

from flask import Blueprint, abort, render_template, request
from flask.typing import ResponseReturnValue

from ...pair.accepted import Accepted
from ...pair.second_sock import second_sock_chosen, second_sock_options
from ...planning.recalculation.figures import PlanFigures
from ...planning.recalculation.second_sock_options import same_sock
from ..answers import redirect_to_knit
from ..open_pair import OpenPair, open_pair
from ..request_args import whole_number
from ..revising import accept_or_409

BEGUN = "Sock two is begun, and a sock that is begun goes on by its own plan."

bp = Blueprint("second_sock", __name__)


@bp.get("/pair/<link>/second")
def options(link: str) -> ResponseReturnValue:
    """The three ways to knit sock two, each with its sizes and what is different from sock one."""
    pair = open_pair(link)
    chosen = second_sock_chosen(pair.revisions)
    wanted = pair.plan(2).request
    anew = wanted.two_feet and not chosen
    best = "measured" if wanted.other_foot.given() else "knitted"
    return render_template(
        "pair/second.html",
        link=link,
        pair_title=pair.title,
        unit=pair.unit,
        begun=bool(pair.done[2]),
        newest=pair.newest,
        found=(found := second_sock_options(pair)),
        numbers={match.key: PlanFigures(match.plan, match.sizes) for match in found},
        advised=next((match.plan for match in found if anew and match.key == best), pair.plan(2)),
        two_feet=wanted.two_feet,
        chosen=chosen,
        changed=[
            revision.summary.partition("\n")[0].partition(", ")[2]
            for revision in pair.revisions
            if revision.sock == 1 and revision.done
        ],
    )


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
    match = next((one for one in second_sock_options(pair) if one.key == request.form.get("choice")), None)
    if match is None:
        abort(422, "Choose one of the ways to knit sock two. Go back to them.")
    if same_sock(match.plan, pair.plan(2)) and second_sock_chosen(pair.revisions):
        return None
    return Accepted(
        sock=2,
        done=0,
        title=f"Sock 2, before its cast-on: {match.title}",
        plan=match.plan,
        changes=match.changes,
        option=f"sock two {match.key}",
    )
