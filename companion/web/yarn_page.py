"""What is left of the yarn: forecast from what was weighed, and a leg as long as the yarn allows."""

from __future__ import annotations

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from ..planning.changes import changes_between
from ..planning.document import Plan
from ..planning.faults import CannotKnitError
from ..planning.leg_reach import LegReach, leg_reach, with_leg
from ..planning.yarn_left import Progress
from ..weighed import weighings_kept
from .asked import whole_number
from .chart_drawing import colours_of, yarn_square
from .leg_words import cuff_sum, leg_figures
from .open_pair import OpenPair, open_pair, store
from .revising import Accepted, keep
from .yarn_of_pair import forecast
from .yarn_words import figures, verdict

BY_YARN = "leg by yarn"
"""The option of a revision that gives the leg another length."""

CHANGED_MEANWHILE = "The plan was changed or a sock counted on in the meantime. Open the yarn page again."

pages = Blueprint("yarn", __name__)


@pages.get("/pair/<link>/yarn")
def left(link: str) -> ResponseReturnValue:
    """What is left of each yarn, what it has to reach for, and how long the leg may become."""
    pair = open_pair(link)
    progress, yarns = forecast(pair)
    leg = leg_reach(progress, yarns)
    plan = progress.courses[0].plan
    colours = colours_of(plan.request.yarns)
    return render_template(
        "yarn.html",
        link=link,
        title=pair.pair.title,
        unit=pair.pair.unit,
        done=progress.done,
        totals=[course.plan.count for course in progress.courses],
        cursor=pair.cursor,
        revision=pair.newest,
        yarns=[
            {
                "key": yarn.key,
                "name": yarn.name,
                "square": yarn_square(yarn.key, colours[yarn.key]),
                "weighed": yarn.use.ball.weighed,
                "verdict": verdict(yarn),
                "figures": list(figures(yarn, progress.sock)),
            }
            for yarn in yarns
        ],
        weighings=[
            {"id": one.id, "grams": one.grams, "yarn": one.yarn, "where": f"sock {one.sock}, round {one.round}"}
            for one in reversed(weighings_kept(pair.entries.values()))
            if not one.left_out
        ],
        leg=leg,
        cuff_sum=cuff_sum,
        reach=list(leg_figures(leg, yarns, pair.pair.unit)) if leg else [],
        toe_up=plan.request.construction.direction == "toe-up",
        until_half=plan.request.leg.until == "half the yarn",
    )


@pages.post("/pair/<link>/yarn/leave-out")
def leave_out(link: str) -> ResponseReturnValue:
    """A weighing does not count any more, because it was a slip of the pen."""
    pair = open_pair(link)
    weighed = {one.id: one for one in weighings_kept(pair.entries.values()) if not one.left_out}
    slip = weighed.get(request.form.get("entry", ""))
    if slip is None:
        abort(409, "This weighing is not in the logbook, or is left out already. Open the yarn page again.")
    store().add_entries(pair.pair, [pair.entry(slip.sock, "withdrawal", slip.round, data={"entry": slip.id})])
    return redirect(url_for("yarn.left", link=link), 303)


@pages.post("/pair/<link>/yarn/leg")
def make_leg(link: str) -> ResponseReturnValue:
    """Give the leg another length from here on."""
    pair = open_pair(link)
    progress, yarns = forecast(pair)
    leg = leg_reach(progress, yarns)
    shown = (request.form.get("revision"), request.form.get("round_1"), request.form.get("round_2"))
    if shown != (str(pair.newest), *map(str, progress.done)):
        abort(409, CHANGED_MEANWHILE)
    if leg is None:
        abort(409, "The leg is behind you already, or the socks follow different plans. Its length stays as it is.")
    rounds = _rounds(leg)
    before = progress.courses[0].plan
    try:
        plan = with_leg(before, progress.done[0], rounds)
    except CannotKnitError as error:
        abort(409, f"The leg cannot become so long: {error}")
    if rounds != leg.planned.rounds:
        _keep(pair, progress, plan, f"Leg of {rounds} rounds, for the yarn")
    return redirect(url_for("pages.knit", link=link), 303)


def _rounds(leg: LegReach) -> int:
    rounds, given = whole_number("rounds"), request.form.get("rounds", "")
    least, most = max(1, leg.knitted), leg.most_allowed
    if rounds is None or not least <= rounds <= most:
        abort(422, f"“{given}” was given as the rounds of the leg; allowed: {least} to {most}. Go back and change it.")
    return rounds


def _keep(pair: OpenPair, progress: Progress, plan: Plan, what: str) -> None:
    before = progress.courses[0].plan
    accepted = Accepted(
        sock=1,
        done=progress.done[0],
        title=f"Sock 1, after round {progress.done[0]}: {what}",
        plan=plan,
        changes=changes_between(before, plan, before.sizes, plan.sizes),
        option=BY_YARN,
        other_done=progress.done[1],
    )
    keep(pair, accepted, CHANGED_MEANWHILE)
