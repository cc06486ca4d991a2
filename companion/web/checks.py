"""The gauge check: count, and see what all that was counted so far means."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError  # type: ignore[import-untyped]
from pydantic import ValidationError

from ..planning.check import Check, read_check
from ..planning.faults import CannotKnitError, faults_of
from ..planning.recalculation import refuse_miscounts
from ..remarks import Remark
from .asked import unit_asked
from .check_form import CheckForm, first_values, limits, refusals
from .check_place import CheckPlace, place_asked
from .check_result import CheckResult
from .check_shown import shown
from .open_pair import OpenPair, open_pair, store
from .security import error_page, shown_again

pages = Blueprint("checks", __name__)


def _page(pair: OpenPair, form: CheckForm, faults: list[str] | None = None) -> str:
    place = place_asked(pair)
    return render_template(
        "check.html",
        form=form,
        pair_title=pair.pair.title,
        sock=place.sock,
        round=place.done,
        unit=form.shown_unit(),
        place=place.in_words(),
        counted=any(entry.kind in {"check", "length"} for entry in pair.entries.values()),
        faults=faults or [],
        limits=limits(),
        refusals=refusals(),
    )


def _result_url(link: str, place: CheckPlace, unit: str) -> str:
    return url_for("checks.result", link=link, sock=place.sock, round=place.done, unit=unit)


@pages.get("/pair/<link>/check")
def check(link: str) -> ResponseReturnValue:
    """The form, for the sock and the place that the address names (`?sock=1&round=85`)."""
    pair = open_pair(link)
    return _page(pair, CheckForm(formdata=None, data=first_values(pair.pair.unit)))


@pages.get("/check")
def check_shell() -> ResponseReturnValue:
    """The form without a pair: kept by the worker for times without network, where the browser fills in the place."""
    form = CheckForm(formdata=None, data=first_values("cm"))
    return render_template(
        "check.html", form=form, unit="cm", sock=1, round=0, faults=[], limits=limits(), refusals=refusals()
    )


@pages.post("/pair/<link>/check")
def keep(link: str) -> ResponseReturnValue:
    """Keep a check in the logbook, and lead to what it means. The plan stays as it is."""
    pair = open_pair(link)
    place = place_asked(pair)
    form = CheckForm()
    if form.take_unit():
        return _page(pair, form)
    counted, faults = _read(form, place)
    if counted is None:
        return _page(pair, form, faults), 422
    data = counted.model_dump(mode="json", exclude_defaults=True)
    _write(pair, place, "check", {**data, "needle_mm": place.plan.request.needles.size_mm}, form.entry.data)
    return redirect(_result_url(link, place, form.shown_unit()), 303)


def _read(form: CheckForm, place: CheckPlace) -> tuple[Check | None, list[str]]:
    """The check in a form; what is wrong stands at its fields or in the sentences."""
    data = form.check_data()
    if any(field.errors for field in form):
        return None, []
    counted, faults = read_check(data)
    if counted is not None:
        try:
            refuse_miscounts(place.plan, [counted])
        except CannotKnitError as error:
            counted, faults = None, [error.fault]
    return counted, [line for fault in faults for line in form.take_fault(fault)]


def _write(pair: OpenPair, place: CheckPlace, kind: Remark, data: dict[str, Any], name: str | None = None) -> None:
    """Write a remark into the logbook; one under a name that is there already stays as it was first written."""
    named = {"id": name} if name else {}
    try:
        entry = pair.entry(place.sock, kind, place.done, data=data, **named)
    except ValidationError as error:
        abort(400, f"This cannot be written down: {'; '.join(map(str, faults_of(error)))}. Open the check anew.")
    store().add_entries(pair.pair, [entry])


@pages.get("/pair/<link>/check/result")
def result(link: str) -> ResponseReturnValue:
    """What all the checks mean for a sock at a place, and the ways to go on. Nothing is changed."""
    pair = open_pair(link)
    return render_template(
        "check_result.html", **shown(CheckResult(pair, place_asked(pair)), unit_asked(pair.pair.unit))
    )


@pages.post("/pair/<link>/check/leave-out")
def leave_out(link: str) -> ResponseReturnValue:
    """A check or a length does not count any more, because it was a slip of the pen."""
    pair = open_pair(link)
    place = place_asked(pair)
    slip = request.form.get("entry", "")
    if slip not in CheckResult(pair, place).slips_possible:
        abort(409, "This is not in the logbook, or is left out already. Open the result again.")
    _write(pair, place, "withdrawal", {"entry": slip})
    return redirect(_result_url(link, place, unit_asked(pair.pair.unit)), 303)


@pages.errorhandler(CSRFError)
@shown_again
def stale(error: CSRFError) -> ResponseReturnValue:
    """The check as it was filled in, with a fresh token, to be sent once more."""
    if request.endpoint != "checks.keep":
        return error_page(error)
    form = CheckForm()
    form.validate()
    return _page(open_pair((request.view_args or {})["link"]), form), 400
