"""Beginning a pair, and accepting another plan for a sock: one way for every page that offers one."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from flask import abort, request

from ..pair.changing.accepted import Accepted
from ..pair.logbook import Sock
from ..pair.revisions import OTHER_FOOT, Revision
from ..pair.state import SockPosition
from ..planning import Plan
from ..planning.units import Unit
from ..store import StaleRevisionError
from ..store.group.designs import Following
from .group.shared_progress import keep_standing
from .open_pair import OpenPair, store

CHANGED_MEANWHILE = (
    "This pair was changed from elsewhere in the meantime. Open the page again and look at what it says now."
)


def begin_pair(link: str, plan: Plan, unit: Unit, other: Plan | None, follows: Following | None = None) -> None:
    """Keep a new pair. Sock two has a plan of its own where it is for another foot."""
    pair = store().add_pair(link, plan.title, unit, plan.model_dump_json(), follows)
    if other:
        store().add_revision(pair, _of_the_other(1, 2, 0, 0, other), "", OTHER_FOOT)


def _of_the_other(newest: int, sock: Sock, done: int, other_done: int, plan: Plan) -> Revision:
    return Revision(newest, sock, done, other_done, "", plan.model_dump_json())


def accept_or_409(
    pair: OpenPair,
    made_from: Mapping[str, object],
    choose: Callable[[], Accepted | None],
    position: SockPosition | None = None,
) -> str | None:
    """Make the plan that was chosen on a page the pair's newest revision.

    Returns the word for what the knit page has to say of it: None where the sock's changed rounds say it themselves.

    `made_from` are the fields of the form that name what its page was made from, with what they would have now, and
    `position` is the sock that it was made for, where more counts make it too old. `choose` finds the plan in the form,
    and is asked only while the page is good; where it finds None, nothing changes. Answers 409 where the page is too
    old, or another plan was accepted by now.
    """
    if any(request.form.get(name) != str(now) for name, now in made_from.items()):
        abort(409, CHANGED_MEANWHILE)
    if position and pair.done[position.sock] > position.done:
        abort(
            409,
            f"Sock {position.sock} has been counted on to round {pair.done[position.sock]} since this page was made at "
            f"round {position.done}. Open it again from the knit page.",
        )
    accepted = choose()
    if accepted is None:
        return "left"
    keep_accepted(pair, accepted)
    return None if accepted.done else "accepted"


def keep_accepted(pair: OpenPair, accepted: Accepted) -> int:
    """Make it the pair's newest revision; returns its number. Answers 409 where another was accepted just now."""
    revision = accepted.revision(pair.newest, pair.done)
    try:
        number = store().add_revision(pair.pair, revision, accepted.gauge_check, accepted.option, accepted.entries)
        if accepted.other_plan:
            other: Sock = 2 if accepted.sock == 1 else 1
            along = _of_the_other(number, other, revision.other_done, revision.done, accepted.other_plan)
            store().add_revision(pair.pair, along, "", OTHER_FOOT)
    except StaleRevisionError:
        abort(409, CHANGED_MEANWHILE)
    keep_standing(pair.pair)
    return number
