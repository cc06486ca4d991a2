"""What is left of the yarn: forecast from what was weighed, and a leg as long as the yarn allows."""

from __future__ import annotations

from functools import partial
from typing import NoReturn

from flask import Blueprint, abort, render_template, request
from flask.typing import ResponseReturnValue

from ...pair.changing.accepted import Accepted
from ...pair.changing.leg_by_yarn import leg_allowed, leg_taken, rounds_allowed
from ...pair.logbook import SOCKS
from ...pair.yarn.weighings import weighings_kept
from ...pair.yarn.yarn_shown import yarn_shown
from ...planning import CannotKnitError
from ...words import sentence
from ..open_pair import OpenPair, open_pair, store
from ..request_args import whole_number
from ..revising import accept_or_409
from ..what_was_done import redirect_saying, redirect_to_knit

bp = Blueprint("yarn", __name__)


@bp.get("/pair/<link>/yarn")
def left(link: str) -> ResponseReturnValue:
    """What is left of each yarn, what it has to reach for, and how long the leg may become."""
    pair = open_pair(link)
    return render_template("pair/yarn.html", link=link, cursor=pair.cursor, **yarn_shown(pair))


@bp.post("/pair/<link>/yarn/leave-out")
def leave_out(link: str) -> ResponseReturnValue:
    """A weighing does not count any more, because it was a mistake."""
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
    places = {f"round_{sock}": pair.position(sock).done for sock in SOCKS}
    return redirect_to_knit(link, accept_or_409(pair, {"revision": pair.newest, **places}, partial(_chosen, pair)))


def _chosen(pair: OpenPair) -> Accepted | None:
    """The plan with a leg of the length in the form; None where it is as long as planned."""
    try:
        accepted = leg_taken(pair, str(whole_number("rounds")))
    except CannotKnitError as error:
        abort(409, f"The leg cannot become so long. {sentence(error.fault.message)}")
    if accepted is None:
        _refuse(pair)
    return None if accepted.plan == pair.plan(1) else accepted


def _refuse(pair: OpenPair) -> NoReturn:
    """Say why the leg cannot have the length in the form."""
    leg = leg_allowed(pair)
    if leg is None:
        abort(409, "The leg is behind you already, or the socks follow different plans. Its length stays as it is.")
    given, allowed = request.form.get("rounds", ""), rounds_allowed(leg)
    abort(
        422,
        f"You typed “{given}” for the rounds of the leg. Allowed: {allowed[0]} to {allowed[-1]}. "
        "Go back and change it.",
    )
