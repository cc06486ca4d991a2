"""A follower's own decisions: take a change of the design over, share with the leader, take that back."""

from __future__ import annotations

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from ..logbook import MOST_ROUNDS, SOCKS, Sock
from ..planning.changes import Change, changes_between
from ..planning.design import request_for
from ..planning.document import Plan
from ..planning.faults import CannotKnitError
from ..planning.planner import make_plan
from ..planning.request import PlanRequest
from ..planning.units import both_units
from ..store.designs import BY_DESIGN
from ..store.shares import Share
from .asked import whole_number
from .constructions import construction_words, flap_words
from .leading import Leading, leading
from .open_pair import open_pair, store
from .people import keep_glimpses
from .revising import Accepted, keep

CHANGED_MEANWHILE = "The design or the plan was changed in the meantime. Open this page again and look at it anew."
LONGEST_NAME = 40

LAID_DOWN = ("As the design was when you joined.", "As the design is now.")
"""Where the two values of an entry of the design come from."""

pages = Blueprint("following", __name__)


def _led(link: str) -> Leading:
    found = leading(open_pair(link))
    if found is None:
        abort(404, "This pair follows no design.")
    return found


def _entries(request: PlanRequest) -> dict[str, str]:
    """What a design lays down for a sock, by the names on the plan page."""
    return {
        "Construction": construction_words(request.construction),
        "Heel flap": flap_words(request.construction),
        "Ribbing": request.cuff.rib,
        "Cuff length": both_units(request.cuff.length_cm),
        "Leg length": both_units(request.leg.length_cm),
        "Top of the foot": request.foot_pattern,
        "Yarn": ", ".join(yarn.name for yarn in request.yarns),
        "Needles": f"{request.needles.arrangement}, {request.needles.size_mm:g} mm",
    }


def _changes(before: Plan, after: Plan) -> list[Change]:
    """What would be different, in the design's own entries first and then in the counts and sizes."""
    old, new = _entries(before.request), _entries(after.request)
    laid_down = [
        Change(what=name, before=old[name] or "none", after=new[name] or "none", sums=LAID_DOWN)
        for name in new
        if old[name] != new[name]
    ]
    if before.request.leg.chart != after.request.leg.chart:
        laid_down.append(Change(what="Chart", before="as in your plan", after="another, or none", sums=LAID_DOWN))
    return [*laid_down, *changes_between(before, after, before.sizes, after.sizes)]


def _anew(led: Leading, sock: Sock) -> Plan:
    """The plan by the newest version, for the foot and the gauge that the sock is planned for.

    Raises CannotKnitError when they do not go together.
    """
    before = led.plans[sock].request
    return make_plan(request_for(led.design, before.foot, before.gauge, before.construction))


def _counted_here(sock: Sock) -> int:
    """Rounds of a sock that the page in hand knows of, perhaps not sent yet."""
    return min(whole_number(f"round_{sock}") or 0, MOST_ROUNDS)


@pages.get("/pair/<link>/design")
def compare(link: str) -> ResponseReturnValue:
    """What the newest version of the design would change in the socks that are not begun."""
    led = _led(link)
    changes: list[Change] = []
    refusal = ""
    if led.changed and led.not_begun:
        sock = led.not_begun[0]
        try:
            changes = _changes(led.plans[sock], _anew(led, sock))
        except CannotKnitError as error:
            refusal = str(error)
    return render_template("following.html", led=led, link=link, changes=changes, refusal=refusal)


@pages.post("/pair/<link>/design")
def accept(link: str) -> ResponseReturnValue:
    """Plan the socks that are not begun by the newest version. A sock that is begun stays as it is."""
    led = _led(link)
    if request.form.get("version") != str(led.newest.version.number):
        abort(409, CHANGED_MEANWHILE)
    if not led.changed:
        return redirect(url_for("pages.plan", link=link), 303)
    free = tuple(sock for sock in led.not_begun if not _counted_here(sock))
    if not free:
        abort(409, "Both socks are begun, and a sock that is begun stays as it is.")
    sock = free[0]
    other: Sock = 2 if sock == 1 else 1
    try:
        plan = _anew(led, sock)
    except CannotKnitError as error:
        abort(409, f"Your pair cannot be planned by the changed design: {error}")
    whose = "both socks" if free == SOCKS else f"sock {sock}"
    accepted = Accepted(
        sock=sock,
        done=0,
        title=f"The design was changed: {whose} planned anew",
        plan=plan,
        changes=_changes(led.plans[sock], plan),
        option=f"{BY_DESIGN}{led.newest.version.number}",
        other_done=max(led.pair.done[other], _counted_here(other)),
    )
    keep(led.pair, accepted, CHANGED_MEANWHILE)
    return redirect(url_for("pages.plan", link=link), 303)


@pages.post("/pair/<link>/share")
def share(link: str) -> ResponseReturnValue:
    """Let the leader see where this pair is, and under which name."""
    led = _led(link)
    first_name = " ".join(request.form.get("first_name", "").split())
    if len(first_name) > LONGEST_NAME or not first_name.isprintable():
        abort(400, f"A first name of at most {LONGEST_NAME} letters, or none, is needed. Go back and shorten it.")
    store().shares.share(led.pair.pair, Share(first_name, size="size" in request.form))
    keep_glimpses(led.pair.pair)
    return redirect(url_for("pages.plan", link=link, _anchor="leader-title"), 303)


@pages.post("/pair/<link>/share/withdraw")
def withdraw(link: str) -> ResponseReturnValue:
    """Let the leader see nothing any more."""
    store().shares.withdraw(_led(link).pair.pair)
    return redirect(url_for("pages.plan", link=link, _anchor="leader-title"), 303)
