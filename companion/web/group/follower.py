"""A follower's own decisions: take a change of the design over, share with the leader, take that back."""

from __future__ import annotations

from dataclasses import asdict
from functools import partial

from flask import Blueprint, abort, render_template, request, session
from flask.typing import ResponseReturnValue

from ...pair.changing.accepted import Accepted
from ...pair.changing.request_changes import changes_asked
from ...pair.logbook import SOCKS, Sock
from ...planning import CannotKnitError
from ...planning.plan.document import MOST_ROUNDS
from ...planning.recalculation.changes import Change
from ...store.group.designs import BY_DESIGN, Following
from ...store.shares import Share
from ...words import sentence
from ..links import mark_of
from ..open_pair import find_pair, open_pair, store
from ..request_args import whole_number
from ..revising import accept_or_409
from ..what_was_done import redirect_saying
from .followed_design import FollowedDesign, followed_design
from .shared_progress import keep_standing
from .taking_over import offer_of

LONGEST_NAME = 40

LEFT = "left"
"""Under which the browser's session has the group that was left last, so that the way back is open to it alone."""

NO_WAY_BACK = "There is no way back to the group from here. Its leader’s link makes a new pair in it."

LAID_DOWN = ("As the design was when you joined.", "As the design is now.")
"""Where the two values of an entry of the design come from."""

bp = Blueprint("following", __name__)


def _led(link: str) -> FollowedDesign:
    found = followed_design(open_pair(link))
    if found is None:
        abort(404, "This pair follows no design.")
    return found


def _counted_here(sock: Sock) -> int:
    """Rounds of a sock that the page in hand knows of, perhaps not sent yet."""
    return min(whole_number(f"round_{sock}") or 0, MOST_ROUNDS)


@bp.get("/pair/<link>/design")
def compare(link: str) -> ResponseReturnValue:
    """What the newest version of the design would change in what lies ahead."""
    led = _led(link)
    changes: list[Change] = []
    offer, refusal = None, ""
    if led.changed:
        try:
            offer = offer_of(led, {})
        except CannotKnitError as error:
            refusal = sentence(error.fault.message)
    if offer:
        changes = changes_asked(led.plans[offer.sock], offer.plan, LAID_DOWN)
    return render_template(
        "pair/following.html", led=led, link=link, offer=offer, changes=changes, refusal=refusal, unit=led.pair.unit
    )


@bp.post("/pair/<link>/design")
def accept(link: str) -> ResponseReturnValue:
    """Plan what lies ahead by the newest version; or leave the plan as it is, and hear no more of this change."""
    led = _led(link)
    if "leave" in request.form:
        store().designs.leave(led.pair.pair, whole_number("version") or 0)
        return redirect_saying("pages.plan", "design-left", link=link)
    accept_or_409(led.pair, {"version": led.newest.version.number}, partial(_planned_again, led))
    return redirect_saying("pages.plan", "taken-over", link=link)


def _planned_again(led: FollowedDesign) -> Accepted | None:
    """The plan for what lies ahead; None where it is planned by the newest version already."""
    if not led.changed:
        return None
    counted = {sock: _counted_here(sock) for sock in SOCKS}
    try:
        offer = offer_of(led, counted)
    except CannotKnitError as error:
        abort(409, f"Your pair cannot be planned by the changed design. {sentence(error.fault.message)}")
    if offer is None:
        abort(409, "What is knitted settles what was changed in the design. Your pair stays as it is.")
    other: Sock = 2 if offer.sock == 1 else 1
    return Accepted(
        sock=offer.sock,
        done=offer.done,
        title=f"The design was changed: {offer.whose_words} planned again",
        plan=offer.plan,
        changes=changes_asked(led.plans[offer.sock], offer.plan, LAID_DOWN),
        option=f"{BY_DESIGN}{led.newest.version.number}",
        other_done=max(led.pair.done[other], counted[other]),
        other_plan=offer.other_plan,
    )


@bp.post("/pair/<link>/leave")
def leave(link: str) -> ResponseReturnValue:
    """Leave the group: the pair goes on as one of its own, and the leader does not count it any more."""
    led = _led(link)
    seen = store().designs.unfollow(led.pair.pair)
    session[LEFT] = {"pair": mark_of(link), "seen": seen, **asdict(led.taken)}
    return redirect_saying("pages.plan", "group-left", link=link)


@bp.post("/pair/<link>/return")
def come_back(link: str) -> ResponseReturnValue:
    """Go back to the group that this browser has left with the pair; what was shared stays forgotten."""
    pair, left = find_pair(link), session.get(LEFT, {})
    if left.pop("pair", "") != mark_of(link):
        abort(409, NO_WAY_BACK)
    del session[LEFT]
    seen = left.pop("seen")
    if not store().designs.follow_again(pair, Following(**left), seen):
        abort(409, NO_WAY_BACK)
    return redirect_saying("pages.plan", "group-back", link=link)


@bp.post("/pair/<link>/share")
def share(link: str) -> ResponseReturnValue:
    """Let the leader see where this pair is, and under which name."""
    led = _led(link)
    first_name = " ".join(request.form.get("first_name", "").split())
    if len(first_name) > LONGEST_NAME or not first_name.isprintable():
        abort(400, f"A first name of at most {LONGEST_NAME} letters, or none, is needed. Go back and shorten it.")
    store().shares.share(led.pair.pair, Share(first_name, size="size" in request.form))
    keep_standing(led.pair.pair)
    return redirect_saying("pages.plan", "shared", link=link)


@bp.post("/pair/<link>/share/withdraw")
def withdraw(link: str) -> ResponseReturnValue:
    """Let the leader see nothing any more."""
    store().shares.withdraw(_led(link).pair.pair)
    return redirect_saying("pages.plan", "not-shared", link=link)
