"""What is left of the yarn: forecast from what was weighed, and a leg as long as the yarn allows."""

from __future__ import annotations

from functools import partial

from flask import Blueprint, abort, render_template, request
from flask.typing import ResponseReturnValue

from ...drawings.chart import colours_of, yarn_square
from ...pair.changing.accepted import Accepted
from ...pair.logbook import SOCKS
from ...pair.state import SockPosition
from ...pair.yarn.forecast import Forecast, forecast
from ...pair.yarn.leg_words import leg_figures
from ...pair.yarn.weighings import weighings_kept
from ...pair.yarn.words import figures, verdict
from ...planning import CannotKnitError
from ...planning.recalculation.changes import changes_between
from ...planning.recalculation.leg_length import LegReach, leg_reach, with_leg
from ...words import sentence
from ..open_pair import open_pair, store
from ..request_args import whole_number
from ..revising import accept_or_409
from ..what_was_done import redirect_saying, redirect_to_knit

BY_YARN = "leg by yarn"
"""The option of a revision that gives the leg another length."""

WORRIES = ("good", "snug", "will not go on")
"""Verdicts, the worst one last: the page begins with it."""

bp = Blueprint("yarn", __name__)


@bp.get("/pair/<link>/yarn")
def left(link: str) -> ResponseReturnValue:
    """What is left of each yarn, what it has to reach for, and how long the leg may become."""
    pair = open_pair(link)
    progress, yarns = forecast(pair)
    leg = leg_reach(progress, yarns)
    plan = progress.courses[0].plan
    colours = colours_of(plan.request.yarns)
    return render_template(
        "pair/yarn.html",
        link=link,
        title=pair.title,
        unit=pair.unit,
        done=progress.done,
        places=[pair.position(sock).behind() for sock in SOCKS],
        cursor=pair.cursor,
        revision=pair.newest,
        yarns=[
            {
                "key": yarn.key,
                "name": yarn.name,
                "square": yarn_square(yarn.key, colours[yarn.key]),
                "weighed": yarn.use.ball.weighed,
                "verdict": verdict(yarn),
                "asks": yarn.use.asks,
                "worry": WORRIES.index(verdict(yarn).verdict),
                "figures": list(figures(yarn, progress.sock)),
            }
            for yarn in yarns
        ],
        weighings=[
            {
                "id": one.id,
                "grams": one.grams,
                "yarn": one.yarn,
                "where": SockPosition(one.sock, pair.plan(one.sock), one.round).behind(),
            }
            for one in reversed(weighings_kept(pair.entries))
        ],
        leg=leg,
        reach=list(leg_figures(leg, yarns, pair.unit)) if leg else [],
        toe_up=plan.request.construction.direction == "toe-up",
        until_half=plan.request.leg.until == "half the yarn",
    )


@bp.post("/pair/<link>/yarn/leave-out")
def leave_out(link: str) -> ResponseReturnValue:
    """A weighing does not count any more, because it was a slip of the pen."""
    pair = open_pair(link)
    weighed = {one.id: one for one in weighings_kept(pair.entries)}
    slip = weighed.get(request.form.get("entry", ""))
    if slip is None:
        abort(409, "This weighing is not in the logbook, or is left out already. Open the yarn page again.")
    store().add_entries(pair.pair, [pair.entry(slip.sock, "withdrawal", slip.round, data={"entry": slip.id})])
    return redirect_saying("yarn.left", "left-out", link=link)


@bp.post("/pair/<link>/yarn/leg")
def make_leg(link: str) -> ResponseReturnValue:
    """Give the leg another length from here on."""
    pair = open_pair(link)
    found = forecast(pair)
    one, two = found.progress.done
    made_from = {"revision": pair.newest, "round_1": one, "round_2": two}
    return redirect_to_knit(link, accept_or_409(pair, made_from, partial(_chosen, found)))


def _chosen(found: Forecast) -> Accepted | None:
    """The plan with a leg of the length in the form; None where it is as long as planned."""
    progress = found.progress
    leg = leg_reach(progress, found.yarns)
    if leg is None:
        abort(409, "The leg is behind you already, or the socks follow different plans. Its length stays as it is.")
    rounds = _rounds(leg)
    before = progress.courses[0].plan
    try:
        plan = with_leg(before, progress.done[0], rounds)
    except CannotKnitError as error:
        abort(409, f"The leg cannot become so long. {sentence(error.fault.message)}")
    if rounds == leg.planned.rounds:
        return None
    return Accepted(
        sock=1,
        done=progress.done[0],
        title=f"{SockPosition(1, before, progress.done[0]).behind()}: Leg of {rounds} rounds, for the yarn",
        plan=plan,
        changes=changes_between(before, plan, before.sizes, plan.sizes),
        option=BY_YARN,
        other_done=progress.done[1],
    )


def _rounds(leg: LegReach) -> int:
    rounds, given = whole_number("rounds"), request.form.get("rounds", "")
    least, most = max(1, leg.knitted), leg.most_allowed
    if rounds is None or not least <= rounds <= most:
        abort(422, f"You typed “{given}” for the rounds of the leg. Allowed: {least} to {most}. Go back and change it.")
    return rounds
