"""The gauge check: count, see what it means, accept a change, take it back."""

from __future__ import annotations

import uuid

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError  # type: ignore[import-untyped]
from werkzeug.exceptions import HTTPException

from ..logbook import HIGHEST_CLOCK, SOCKS, THIS_SERVER, Entry, Sock
from ..pair import Revision
from ..planning.check import Check, read_check
from ..planning.document import Plan
from ..planning.faults import CannotKnitError
from ..planning.observed import assumed
from ..planning.options import Option
from ..planning.recalculation import Recalculation, recalculate
from ..store import StaleRevisionError
from .check_form import CheckForm, first_values
from .open_pair import OpenPair, open_pair, store
from .security import error_page

AHEAD_OF_UNSENT = 1000
"""Clock ticks by which ripping back goes before counts that a phone made earlier and has not sent yet."""

CHANGED_MEANWHILE = "The plan was changed from elsewhere in the meantime. Open the check again and look at it anew."

pages = Blueprint("checks", __name__)


def _whole_number(name: str, otherwise: int) -> int:
    text = request.values.get(name, "")
    if not text:
        return otherwise
    if not (text.isascii() and text.isdigit() and len(text) <= 6):
        abort(400, f"“{name}” has to be a whole number in this address. Open the check from the knit page.")
    return int(text)


def _sock() -> Sock:
    number = _whole_number("sock", 1)
    if number not in SOCKS:
        abort(400, "A pair has sock 1 and sock 2. Open the check from the knit page.")
    return 2 if number == 2 else 1


def _place(pair: OpenPair, sock: Sock, plan: Plan) -> int:
    """Rounds of the sock that are done, as the page says; what the server knows when it does not."""
    total = len(plan.rounds())
    done = _whole_number("round", min(pair.done[sock], total))
    if done > total:
        abort(400, f"This sock has {total} rounds, not {done}. Open the check from the knit page.")
    return done


def _in_words(plan: Plan, sock: Sock, done: int) -> str:
    """A place in words: "Sock 1, Leg, 12 of 61 rounds"."""
    start = 0
    for section in plan.sections:
        count = len(section.rounds())
        if done < start + count:
            break
        start += count
    else:
        return f"Sock {sock}, finished"
    return f"Sock {sock}, {section.title}, {done - start} of {count} {'rows' if section.flat else 'rounds'}"


def _page(pair: OpenPair, form: CheckForm, result: Recalculation | None = None, faults: list[str] | None = None) -> str:
    sock = _sock()
    plan = pair.plan(sock)
    done = _place(pair, sock, plan)
    return render_template(
        "check.html",
        form=form,
        pair_title=pair.pair.title,
        sock=sock,
        round=done,
        unit=form.shown_unit(),
        place=_in_words(plan, sock, done),
        result=result,
        faults=faults or [],
    )


def _read(form: CheckForm) -> tuple[Check | None, list[str]]:
    """The check in a form; what is wrong stands at its fields or in the sentences."""
    data = form.check_data()
    if any(field.errors for field in form):
        return None, []
    check, faults = read_check(data)
    return check, [line for fault in faults for line in form.take_fault(fault)]


def _recalculated(form: CheckForm, pair: OpenPair, plan: Plan, done: int) -> tuple[Recalculation | None, list[str]]:
    check, faults = _read(form)
    if check is None:
        return None, faults
    try:
        # What the pair was planned with counts, and not what earlier checks made of it.
        return recalculate(plan, done, [assumed(pair.plan_of(pair.revisions[0]).request), check]), []
    except CannotKnitError as error:
        return None, form.take_fault(error.fault)


@pages.get("/pair/<link>/check")
def check(link: str) -> ResponseReturnValue:
    """The form, for the sock and the place that the address names (`?sock=1&round=85`)."""
    pair = open_pair(link)
    return _page(pair, CheckForm(formdata=None, data=first_values(pair.pair.unit)))


@pages.post("/pair/<link>/check")
def result(link: str) -> ResponseReturnValue:
    """What the counts mean and the ways to go on. Nothing is changed."""
    pair = open_pair(link)
    form = CheckForm()
    if form.take_unit():
        return _page(pair, form)
    plan = pair.plan(_sock())
    found, faults = _recalculated(form, pair, plan, _place(pair, _sock(), plan))
    form.revision.data = str(pair.newest)
    return _page(pair, form, found, faults), 200 if found else 422


@pages.post("/pair/<link>/check/accept")
def accept(link: str) -> ResponseReturnValue:
    """Knit by one of the options from here on."""
    pair = open_pair(link)
    sock = _sock()
    plan = pair.plan(sock)
    done = _place(pair, sock, plan)
    form = CheckForm()
    if form.revision.data not in {"", None, str(pair.newest)}:
        abort(409, CHANGED_MEANWHILE)
    if pair.done[sock] > done:
        abort(
            409,
            f"Sock {sock} has been counted on to round {pair.done[sock]} since this check at round {done}. "
            "Open the check again from the knit page.",
        )
    found, faults = _recalculated(form, pair, plan, done)
    if found is None:
        return _page(pair, form, None, faults), 422
    option = next((one for one in found.options if one.key == request.form.get("option")), None)
    if option is None:
        return _page(pair, form, found, ["Choose one of the ways to go on."]), 422
    _keep(pair, sock, done, form, option)
    return redirect(url_for("pages.knit", link=link), 303)


def _keep(pair: OpenPair, sock: Sock, done: int, form: CheckForm, option: Option) -> None:
    """Store an accepted option with its place; an option that leaves all as it was leaves nothing to store."""
    ripped = option.done < done
    entries = [_go(pair, sock, option.done, ripped=ripped)] if option.done != pair.done[sock] else []
    if option.plan == pair.plan(sock):
        store().add_entries(pair.pair, entries)
        return
    counted, _ = read_check(form.check_data())
    other: Sock = 2 if sock == 1 else 1
    changes = [f"{change.what}: {change.before} → {change.after}" for change in option.changes]
    change = Revision(
        number=pair.newest,
        sock=sock,
        done=option.done,
        other_done=pair.done[other],
        summary="\n".join([f"Sock {sock}, after round {done}: {option.title}", *changes]),
        plan=option.plan.model_dump_json(),
    )
    try:
        store().add_revision(pair.pair, change, counted.model_dump_json() if counted else "", option.key, entries)
    except StaleRevisionError:
        abort(409, CHANGED_MEANWHILE)


def _go(pair: OpenPair, sock: Sock, place: int, *, ripped: bool) -> Entry:
    """The logbook entry that puts a sock to a place."""
    return Entry(
        id=str(uuid.uuid4()),
        device=THIS_SERVER,
        clock=min(pair.clock + (AHEAD_OF_UNSENT if ripped else 1), HIGHEST_CLOCK),
        at=store().moment(),
        sock=sock,
        kind="go",
        round=place,
    )


@pages.post("/pair/<link>/check/undo")
def undo(link: str) -> ResponseReturnValue:
    """Take the newest change back, while no sock is knitted past its place."""
    pair = open_pair(link)
    followed = pair.followed[_sock()]
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


@pages.errorhandler(CSRFError)
def stale(error: CSRFError) -> ResponseReturnValue:
    """The check as it was filled in, with a fresh token, to be sent once more."""
    if request.endpoint == "checks.undo":
        return error_page(error)
    form = CheckForm()
    form.validate()
    try:
        return _page(open_pair((request.view_args or {})["link"]), form), 400
    except HTTPException as refusal:
        return error_page(refusal)
