"""Accept one of the ways to go on that a gauge check found, and take a change back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from flask import Blueprint, abort, request
from flask.typing import ResponseReturnValue

from ....pair.changing.accepted import Accepted
from ....pair.changing.taking_back import OFFERED_ROUNDS, free_until, socks_past
from ....pair.checking.check_result import CheckResult
from ....pair.checking.way_taken import way_taken
from ....pair.logbook import HIGHEST_CLOCK, Entry, Sock
from ....pair.revisions import OTHER_FOOT, undoable
from ....store import StaleRevisionError
from ...group.shared_progress import keep_standing
from ...open_pair import OpenPair, open_pair, store
from ...request_args import whole_number
from ...revising import CHANGED_MEANWHILE, accept_or_409
from ...what_was_done import redirect_to_knit
from ..sock_position import position_asked, sock_asked

AHEAD_OF_UNSENT = 1000
"""Clock ticks by which ripping back goes before counts that a phone made earlier and has not sent yet."""

bp = Blueprint("accepting", __name__)


@bp.post("/pair/<link>/check/accept")
def accept(link: str) -> ResponseReturnValue:
    """Knit by one of the options from here on."""
    pair = open_pair(link)
    position = position_asked(pair)
    result = CheckResult(pair, position)
    did = accept_or_409(pair, {"basis": result.basis}, partial(_chosen, pair, result), position)
    return redirect_to_knit(link, did)


def _chosen(pair: OpenPair, result: CheckResult) -> Accepted | None:
    """The option in the form with its place; one that keeps the plan leaves at most the place to store."""
    accepted = way_taken(result, request.form.get("option"))
    if accepted is None:
        abort(422, "Choose one of the ways to go on. Open the check again from the knit page.")
    position = result.position
    moved = accepted.done != pair.done[position.sock]
    back = accepted.done < position.done
    go = _back_to(pair, position.sock, accepted.done) if back else pair.entry(position.sock, "go", accepted.done)
    entries = [go] if moved else []
    if accepted.plan == position.plan:
        store().add_entries(pair.pair, entries)
        return None
    return replace(accepted, entries=entries)


@bp.post("/pair/<link>/check/undo")
def undo(link: str) -> ResponseReturnValue:
    """Take the newest change back, while no sock is knitted past it; or a little past, and that much is ripped.

    What is ripped has to be said in the form: `round`, the place that the sock had where it was offered.
    """
    pair = open_pair(link)
    sock = sock_asked()
    change = pair.followed[sock]
    if change.number == 1 or change.option == OTHER_FOOT:
        abort(409, "This sock follows its first plan; there is no change to take back.")
    place = whole_number("round")
    if pair.revisions[-1].option == OTHER_FOOT:
        _undo_both(pair, sock, max(place or 0, pair.done[sock]))
        return redirect_to_knit(link, "taken-back")
    if change.number != pair.newest:
        abort(409, "The other sock's plan was changed later. Take that change back first.")
    free = free_until(pair)
    past = socks_past(pair, free, {**pair.done, sock: max(place or 0, pair.done[sock])})
    offered = place is not None and pair.done[sock] <= place <= change.done + OFFERED_ROUNDS
    if past and not (offered and past == [sock]):
        abort(
            409,
            f"The rounds after round {free} are already knitted by the changed plan. "
            "Step back to there on the knit page first, or make a new check.",
        )
    _withdraw(pair, change.number, entries=[_back_to(pair, sock, free)] if past else ())
    return redirect_to_knit(link, "taken-back")


def _undo_both(pair: OpenPair, sock: Sock, done: int) -> None:
    """Take back a change that came with a plan for the other foot; `sock` is the one it was made for."""
    change = undoable(pair.revisions, {**pair.done, sock: done})
    if change is None or change.sock != sock:
        abort(
            409,
            "The change is of both socks, and one of them is already knitted by it. Step back to where it was changed "
            "on the knit page first, or make a new check.",
        )
    _withdraw(pair, pair.newest, change.number)


def _withdraw(pair: OpenPair, *numbers: int, entries: Sequence[Entry] = ()) -> None:
    """Take changes back, the newest first."""
    try:
        store().withdraw(pair.pair, *numbers, entries=entries)
    except StaleRevisionError:
        abort(409, CHANGED_MEANWHILE)
    keep_standing(pair.pair)


def _back_to(pair: OpenPair, sock: Sock, done: int) -> Entry:
    """The entry for ripping a sock back, which goes before counts that a phone has not sent yet."""
    return pair.entry(sock, "go", done, clock=min(pair.clock + AHEAD_OF_UNSENT, HIGHEST_CLOCK))
