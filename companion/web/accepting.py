"""Accept one of the ways to go on that a gauge check found, and take a change back."""

from __future__ import annotations

from flask import Blueprint, abort, redirect, request, url_for
from flask.typing import ResponseReturnValue

from ..logbook import HIGHEST_CLOCK
from ..planning.options import Option
from ..store import StaleRevisionError
from .check_place import place_asked, sock_asked
from .check_result import CheckResult
from .open_pair import open_pair, store
from .revising import Accepted, keep

AHEAD_OF_UNSENT = 1000
"""Clock ticks by which ripping back goes before counts that a phone made earlier and has not sent yet."""

CHANGED_MEANWHILE = (
    "The plan was changed or more was counted elsewhere in the meantime. Open the check again and look at it anew."
)

pages = Blueprint("accepting", __name__)


@pages.post("/pair/<link>/check/accept")
def accept(link: str) -> ResponseReturnValue:
    """Knit by one of the options from here on."""
    pair = open_pair(link)
    place = place_asked(pair)
    result = CheckResult(pair, place)
    if request.form.get("basis") != result.basis:
        abort(409, CHANGED_MEANWHILE)
    if pair.done[place.sock] > place.done:
        abort(
            409,
            f"Sock {place.sock} has been counted on to round {pair.done[place.sock]} since this check at round "
            f"{place.done}. Open the check again from the knit page.",
        )
    found, _ = result.found_or_fault()
    option = next((one for one in found.options if one.key == request.form.get("option")), None) if found else None
    if option is None:
        abort(422, "Choose one of the ways to go on. Open the check again from the knit page.")
    _keep(result, option)
    return redirect(url_for("pages.knit", link=link), 303)


def _keep(result: CheckResult, option: Option) -> None:
    """Store an accepted option with its place; an option that leaves all as it was leaves nothing to store."""
    pair, place = result.pair, result.place
    moved = option.done != pair.done[place.sock]
    ahead = {"clock": min(pair.clock + AHEAD_OF_UNSENT, HIGHEST_CLOCK)} if option.done < place.done else {}
    entries = [pair.entry(place.sock, "go", option.done, **ahead)] if moved else []
    if option.plan == place.plan:
        store().add_entries(pair.pair, entries)
        return
    accepted = Accepted(
        sock=place.sock,
        done=option.done,
        title=f"Sock {place.sock}, after round {place.done}: {option.title}",
        plan=option.plan,
        changes=option.changes,
        option=option.key,
        gauge_check=next((one.check.model_dump_json() for one in result.checks if not one.left_out), ""),
        entries=entries,
    )
    keep(pair, accepted, CHANGED_MEANWHILE)


@pages.post("/pair/<link>/check/undo")
def undo(link: str) -> ResponseReturnValue:
    """Take the newest change back, while no sock is knitted past its place."""
    pair = open_pair(link)
    followed = pair.followed[sock_asked()]
    if followed.number == 1:
        abort(409, "This sock follows its first plan; there is no change to take back.")
    if followed is not pair.undoable:
        if followed.number != pair.newest:
            abort(409, "The other sock's plan was changed later. Take that change back first.")
        abort(
            409,
            f"The rounds after round {followed.done} are already knitted by the changed plan. "
            "Step back to there on the knit page first, or make a new check.",
        )
    try:
        store().withdraw(pair.pair, followed.number)
    except StaleRevisionError:
        abort(409, CHANGED_MEANWHILE)
    return redirect(url_for("pages.knit", link=link), 303)
