"""The gauge check: count, and see what all that was counted so far means."""

from __future__ import annotations

from typing import Any

from flask import Blueprint, abort, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_wtf.csrf import CSRFError  # type: ignore[import-untyped]
from pydantic import ValidationError

from ...forms.check_form import CheckForm, first_values, limits, refusals, usual_lengths
from ...pair.checking.check_result import CheckResult
from ...pair.checking.check_shown import shown
from ...pair.checking.counted_on import ONE_FABRIC, CountedOn, counted_on, on_its_fabric
from ...pair.remarks import Remark
from ...pair.state import SockPosition
from ...planning import CannotKnitError, Check, read_check
from ...planning.faults import faults_of
from ...planning.gauge.repeat import Repeat, repeat_knitted
from ...planning.recalculation.by_fabric import Known
from ...planning.recalculation.fabric_to_count import refuse_more_than_knitted, room_below
from ...planning.recalculation.recalculate import refuse_miscounts
from ...words import sentence
from ..open_pair import OpenPair, open_pair, store
from ..request_args import unit_asked
from ..server.security import OPEN_TOO_LONG, error_page, shown_again
from ..what_was_done import redirect_saying
from .sock_position import position_asked

bp = Blueprint("checks", __name__)


def _page(pair: OpenPair, form: CheckForm, faults: list[str] | None = None) -> str:
    position = position_asked(pair)
    return render_template(
        "pair/check.html",
        form=form,
        pair_title=pair.title,
        sock=position.sock,
        round=position.done,
        unit=form.shown_unit(),
        place=position.in_words(),
        counted=any(entry.kind in {"check", "length"} for entry in pair.entries),
        faults=faults or [],
        limits=limits,
        refusals=refusals(),
        usual=usual_lengths(room_below(position.plan, position.done)),
        repeat=_repeat(position),
        where=_where(position),
    )


def _repeat(position: SockPosition) -> Repeat | None:
    """The repeat that can be counted; on a foot in a stitch pattern and beside a panel what is plain is counted."""
    return None if _where(position).asks else repeat_knitted(position.plan, position.done)


def _where(position: SockPosition) -> CountedOn:
    return counted_on(position.plan, position.done)


def _result_url(link: str, position: SockPosition, unit: str) -> str:
    return url_for("checks.result", link=link, sock=position.sock, round=position.done, unit=unit)


@bp.get("/pair/<link>/check")
def check(link: str) -> ResponseReturnValue:
    """The form, for the sock and the place that the address names (`?sock=1&round=85`)."""
    pair = open_pair(link)
    position = position_asked(pair)
    room = room_below(position.plan, position.done)
    return _page(pair, CheckForm(data=first_values(pair.unit, room), repeat=_repeat(position)))


@bp.get("/check")
def check_shell() -> ResponseReturnValue:
    """The form without a pair: kept by the worker for times without network, where the browser fills in the place."""
    form = CheckForm(data=first_values("cm"))
    return render_template(
        "pair/check.html",
        form=form,
        unit="cm",
        sock=1,
        round=0,
        faults=[],
        limits=limits,
        refusals=refusals(),
        usual=usual_lengths(None),
        where=ONE_FABRIC,
    )


@bp.post("/pair/<link>/check")
def keep(link: str) -> ResponseReturnValue:
    """Keep a check in the logbook, and lead to what it means. The plan stays as it is."""
    pair = open_pair(link)
    position = position_asked(pair)
    form = CheckForm(request.form, repeat=_repeat(position))
    if form.take_unit():
        return _page(pair, form)
    counted, faults = _read(form, position)
    if counted is None:
        return _page(pair, form, faults), 422
    data = counted.model_dump(mode="json", exclude_defaults=True)
    _write(pair, position, "check", {**data, "needle_mm": position.plan.request.needles.size_mm}, form.entry.data)
    return redirect(_result_url(link, position, form.shown_unit()), 303)


def _read(form: CheckForm, position: SockPosition) -> tuple[Check | None, list[str]]:
    """The check in a form; what is wrong stands at its fields or in the sentences."""
    if not form.validate():
        return None, []
    counted, faults = read_check(form.check_data())
    if counted is not None:
        try:
            on_fabric = on_its_fabric(counted, position.plan, position.done)
            refuse_miscounts(Known(position.plan, [on_fabric], position.done))
            refuse_more_than_knitted(counted, position.done)
        except CannotKnitError as error:
            counted, faults = None, [error.fault]
    return counted, [line for fault in faults for line in form.take_fault(fault)]


def _write(pair: OpenPair, position: SockPosition, kind: Remark, data: dict[str, Any], name: str | None = None) -> None:
    """Write a remark into the logbook; one under a name that is there already stays as it was first written."""
    named = {"id": name} if name else {}
    try:
        entry = pair.entry(position.sock, kind, position.done, data=data, **named)
    except ValidationError as error:
        reasons = " ".join(sentence(fault.message) for fault in faults_of(error))
        abort(400, f"This cannot be written down. {reasons} Open the check again.")
    store().add_entries(pair.pair, [entry])


@bp.get("/pair/<link>/check/result")
def result(link: str) -> ResponseReturnValue:
    """What all the checks mean for a sock at a place, and the ways to go on. Nothing is changed."""
    pair = open_pair(link)
    return render_template(
        "pair/check_result.html", **shown(CheckResult(pair, position_asked(pair)), unit_asked(pair.unit))
    )


@bp.post("/pair/<link>/check/leave-out")
def leave_out(link: str) -> ResponseReturnValue:
    """A check or a length does not count any more, because it was a mistake."""
    pair = open_pair(link)
    position = position_asked(pair)
    slip = request.form.get("entry", "")
    if slip not in CheckResult(pair, position).slips_possible:
        abort(409, "This is not in the logbook, or is left out already. Open the result again.")
    _write(pair, position, "withdrawal", {"entry": slip})
    unit = unit_asked(pair.unit)
    return redirect_saying("checks.result", "left-out", link=link, sock=position.sock, round=position.done, unit=unit)


@bp.errorhandler(CSRFError)
@shown_again
def stale(error: CSRFError) -> ResponseReturnValue:
    """The check as it was filled in, with a fresh token, to be sent once more."""
    if request.endpoint != "checks.keep":
        return error_page(error)
    pair = open_pair((request.view_args or {})["link"])
    form = CheckForm(request.form, repeat=_repeat(position_asked(pair)))
    return _page(pair, form, [OPEN_TOO_LONG]), 400
