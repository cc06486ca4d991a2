"""Change what a pair is planned from: all of it before the cast-on, later what lies ahead."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

from flask import Blueprint, abort, redirect, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError  # type: ignore[import-untyped]

from ....forms.plan_form import PlanForm, form_values
from ....forms.plan_outcome import PlanOutcome, plan_outcome
from ....forms.shoe_size import fill_in
from ....pair.changing.accepted import Accepted
from ....pair.changing.request_changes import changes_asked
from ....pair.logbook import SOCKS, Sock
from ....pair.revisions import NEW_GAUGE
from ....pair.state import SockPosition
from ....planning import CannotKnitError, Plan
from ....planning.recalculation.changed_request import change_plan, change_the_other, settled
from ...open_pair import OpenPair, open_pair, store
from ...request_args import unit_asked, whole_number
from ...revising import accept_or_409
from ...server.security import OPEN_TOO_LONG, shown_again
from ...what_was_done import redirect_saying
from ..plans import form_page

AS_ASKED = ("As it was asked for before.", "As it is asked for now.")
"""Where the two values of an entry come from."""

bp = Blueprint("changing", __name__)


@dataclass(frozen=True)
class Ahead:
    """The sock whose plan is changed, and how many of its rounds are knitted; sock two goes along with sock one."""

    pair: OpenPair
    sock: Sock
    done: int

    @property
    def plan(self) -> Plan:
        """The plan as it is."""
        return self.pair.plan(self.sock)

    @property
    def other(self) -> Sock:
        """The other sock of the pair."""
        return 2 if self.sock == 1 else 1

    @property
    def other_plan(self) -> Plan:
        """The plan of the other sock as it is."""
        return self.pair.plan(self.other)

    @property
    def other_done(self) -> int:
        """Rounds that are knitted of the other sock."""
        return max(self.pair.done[self.other], whole_number(f"round_{self.other}") or 0)


def _ahead(link: str) -> Ahead:
    """What of a pair lies ahead, also by rounds that only the page knows of; finished socks lead to the next pair."""
    pair = open_pair(link)
    done = {sock: max(pair.done[sock], whole_number(f"round_{sock}") or 0) for sock in SOCKS}
    open_socks = [sock for sock in SOCKS if done[sock] < pair.plan(sock).count]
    if not open_socks:
        abort(redirect(url_for("plans.next_pair", link=link), 303))
    sock = open_socks[0]
    together = [one for one in open_socks if pair.followed[one] is pair.followed[sock]]
    return Ahead(pair, sock, max(done[one] for one in together))


def _page(ahead: Ahead, form: PlanForm, outcome: PlanOutcome) -> str:
    where = ahead.pair.position(ahead.sock).in_words()
    return form_page(
        form,
        outcome,
        template="forms/change_form.html",
        sends="Change the plan",
        link=request.view_args["link"] if request.view_args else "",
        newest=ahead.pair.newest,
        begun=where if ahead.done else "",
    )


@bp.get("/pair/<link>/change")
def ask(link: str) -> ResponseReturnValue:
    """The form, filled in with what the pair was planned from."""
    ahead = _ahead(link)
    form = PlanForm(data=form_values(ahead.plan.request, unit_asked(ahead.pair.unit)))
    return _page(ahead, form, PlanOutcome() if ahead.done else plan_outcome(form))


@bp.post("/pair/<link>/change")
def change(link: str) -> ResponseReturnValue:
    """Make the changed plan the pair's newest; or the form again, with what is wrong. What is knitted stays."""
    ahead = _ahead(link)
    form = PlanForm(request.form)
    if form.take_unit():
        return _page(ahead, form, PlanOutcome())
    if "fill" in request.form:
        fill_in(form)
        return _page(ahead, form, PlanOutcome())
    outcome = _changed(ahead, form)
    if outcome.plan is None:
        return _page(ahead, form, outcome), 422
    if "show" in request.form:
        return _page(ahead, form, outcome)
    accept_or_409(ahead.pair, {"newest": ahead.pair.newest}, partial(_accepted, ahead, outcome))
    store().rename(ahead.pair.pair, outcome.plan.title)
    return redirect_saying("pages.plan", "unchanged" if outcome.plan == ahead.plan else "changed", link=link)


def _changed(ahead: Ahead, form: PlanForm) -> PlanOutcome:
    """The plan for what the form asks for now."""
    before = ahead.plan.request
    if not ahead.done:
        return _with_the_other(ahead, plan_outcome(form, before))
    wanted, faults = form.request_asked(before)
    if wanted is None:
        return PlanOutcome(faults=faults)
    faults = form.take_faults(settled(ahead.plan, ahead.done, wanted))
    if faults or form.refused():
        return PlanOutcome(faults=faults)
    try:
        return _with_the_other(ahead, PlanOutcome(plan=change_plan(ahead.plan, ahead.done, wanted)))
    except CannotKnitError as error:
        return PlanOutcome(faults=form.take_faults([error.fault]))


def _with_the_other(ahead: Ahead, outcome: PlanOutcome) -> PlanOutcome:
    """The outcome with the plan of the other sock, where the feet differ, or did, and it is not finished."""
    plan, done = outcome.plan, ahead.other_done
    two_feet = ahead.plan.request.two_feet or (plan is not None and plan.request.two_feet)
    if plan is None or not two_feet or done >= ahead.other_plan.count:
        return outcome
    try:
        return replace(outcome, other=change_the_other(ahead.other_plan, done, plan.request))
    except CannotKnitError as error:
        return PlanOutcome(offered=outcome.offered, faults=[f"The other sock: {error.fault.message}"])


def _accepted(ahead: Ahead, outcome: PlanOutcome) -> Accepted | None:
    """The change as it is kept; None where nothing is different."""
    plan = outcome.plan
    if plan is None or plan == ahead.plan:
        return None
    position = SockPosition(ahead.sock, ahead.plan, ahead.done)
    place = f"{position.behind()}: what lies ahead is" if ahead.done else "Before the cast-on:"
    new_gauge = not any(ahead.pair.done.values()) and plan.request.gauge != ahead.plan.request.gauge
    return Accepted(
        sock=ahead.sock,
        done=ahead.done,
        title=f"{place} planned again",
        plan=plan,
        changes=changes_asked(ahead.plan, plan, AS_ASKED),
        option=NEW_GAUGE if new_gauge else "changed",
        other_done=ahead.other_done,
        other_plan=outcome.other,
    )


@bp.errorhandler(CSRFError)
@shown_again
def stale(_error: CSRFError) -> ResponseReturnValue:
    """The form as it was filled in, with a fresh token, to be sent once more."""
    ahead = _ahead(str((request.view_args or {}).get("link", "")))
    return _page(ahead, PlanForm(request.form), PlanOutcome(faults=[OPEN_TOO_LONG])), 400
