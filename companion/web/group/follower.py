"""A follower's own decisions: take a change of the design over, share with the leader, take that back."""

from __future__ import annotations

from functools import partial

from flask import Blueprint, abort, render_template, request
from flask.typing import ResponseReturnValue

from ...pair.logbook import SOCKS, Sock
from ...planning import CannotKnitError, Plan, make_plan
from ...planning.plan.design import request_for
from ...planning.plan.document import MOST_ROUNDS
from ...planning.recalculation.changes import Change
from ...store.designs import BY_DESIGN
from ...store.shares import Share
from ...words import sentence
from ..answers import redirect_told
from ..open_pair import open_pair, store
from ..request_args import whole_number
from ..revising import Accepted, accept_or_409
from ..what_is_asked import changes_asked
from .followed_design import Leading, leading
from .shared_progress import keep_standing

LONGEST_NAME = 40

LAID_DOWN = ("As the design was when you joined.", "As the design is now.")
"""Where the two values of an entry of the design come from."""

bp = Blueprint("following", __name__)


def _led(link: str) -> Leading:
    found = leading(open_pair(link))
    if found is None:
        abort(404, "This pair follows no design.")
    return found


def _new_plan(led: Leading, sock: Sock) -> Plan:
    """The plan by the newest version, for the foot and the gauge that the sock is planned for.

    Raises CannotKnitError when they do not go together.
    """
    before = led.plans[sock].request
    return make_plan(request_for(led.design, before.foot, before.gauge, before.construction))


def _counted_here(sock: Sock) -> int:
    """Rounds of a sock that the page in hand knows of, perhaps not sent yet."""
    return min(whole_number(f"round_{sock}") or 0, MOST_ROUNDS)


@bp.get("/pair/<link>/design")
def compare(link: str) -> ResponseReturnValue:
    """What the newest version of the design would change in the socks that are not begun."""
    led = _led(link)
    changes: list[Change] = []
    refusal = ""
    if led.changed and led.not_begun:
        sock = led.not_begun[0]
        try:
            changes = changes_asked(led.plans[sock], _new_plan(led, sock), LAID_DOWN)
        except CannotKnitError as error:
            refusal = sentence(error.fault.message)
    return render_template(
        "pair/following.html", led=led, link=link, changes=changes, refusal=refusal, unit=led.pair.unit
    )


@bp.post("/pair/<link>/design")
def accept(link: str) -> ResponseReturnValue:
    """Plan the socks that are not begun by the newest version. A sock that is begun stays as it is."""
    led = _led(link)
    accept_or_409(led.pair, {"version": led.newest.version.number}, partial(_planned_again, led))
    return redirect_told("pages.plan", "taken-over", link=link)


def _planned_again(led: Leading) -> Accepted | None:
    """The plan for the socks that are not begun; None where they are planned by the newest version already."""
    if not led.changed:
        return None
    free = tuple(sock for sock in led.not_begun if not _counted_here(sock))
    if not free:
        abort(409, "Both socks are begun, and a sock that is begun stays as it is.")
    sock = free[0]
    other: Sock = 2 if sock == 1 else 1
    try:
        plan = _new_plan(led, sock)
    except CannotKnitError as error:
        abort(409, f"Your pair cannot be planned by the changed design. {sentence(error.fault.message)}")
    whose = "both socks" if free == SOCKS else f"sock {sock}"
    return Accepted(
        sock=sock,
        done=0,
        title=f"The design was changed: {whose} planned again",
        plan=plan,
        changes=changes_asked(led.plans[sock], plan, LAID_DOWN),
        option=f"{BY_DESIGN}{led.newest.version.number}",
        other_done=max(led.pair.done[other], _counted_here(other)),
    )


@bp.post("/pair/<link>/share")
def share(link: str) -> ResponseReturnValue:
    """Let the leader see where this pair is, and under which name."""
    led = _led(link)
    first_name = " ".join(request.form.get("first_name", "").split())
    if len(first_name) > LONGEST_NAME or not first_name.isprintable():
        abort(400, f"A first name of at most {LONGEST_NAME} letters, or none, is needed. Go back and shorten it.")
    store().shares.share(led.pair.pair, Share(first_name, size="size" in request.form))
    keep_standing(led.pair.pair)
    return redirect_told("pages.plan", "shared", link=link)


@bp.post("/pair/<link>/share/withdraw")
def withdraw(link: str) -> ResponseReturnValue:
    """Let the leader see nothing any more."""
    store().shares.withdraw(_led(link).pair.pair)
    return redirect_told("pages.plan", "not-shared", link=link)
