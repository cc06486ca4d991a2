"""A leader lays down today what her followers see from a day on, and not before: a changed sock, or a hidden part.

A change that waits is no version of its design. Everything that a follower is shown, the plan documents included, is
made from versions, so there is one place to look at: a change becomes a version when its moment has come, before
anything is answered. That moment is the beginning of the day in the design's time zone, the same for all: nobody
anywhere learns what others do not know yet.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from flask import Blueprint, abort, request
from flask.typing import ResponseReturnValue
from pydantic import ValidationError

from ....group.news import news_of
from ....group.stages import begins, day_at
from ....planning.plan.design import Design
from ....store.group.waiting import MOST_WAITING, WaitingChange
from ....words import day_words
from ...open_pair import store
from ...what_was_done import redirect_saying
from ..open_design import LedDesign, changeable_design, design_of, led_design, newest_design

REVEALED = "Something new from today."
PARTS_ARE_HIDDEN = "Parts of this sock are kept secret. Change their days where you change the design."

bp = Blueprint("reveal", __name__)


@bp.before_app_request
def reveal_what_is_due() -> None:
    """Make versions of the changes whose moment has come; counts, which come most often, show nothing of designs."""
    if "link" not in (request.view_args or {}) or request.endpoint == "sync.log":
        return
    for change in store().waiting.due():
        news = news_of(newest_design(change.design).design, _design(change))
        store().waiting.reveal(change, f"{REVEALED} {news}".strip())


@bp.post("/design/<link>/waiting/remove")
def remove(link: str) -> ResponseReturnValue:
    """Take back what waits for a day."""
    led = led_design(link)
    refuse_where_parts_are_hidden(led)
    store().waiting.remove(led.version.design, request.form.get("day", ""))
    return redirect_saying("designs.lead", "waiting-removed", link=link)


def refuse_where_parts_are_hidden(led: LedDesign) -> None:
    """What waits follows from the days of the hidden parts, and is changed with them; answers 409."""
    if led.design.hidden_until:
        abort(409, PARTS_ARE_HIDDEN)


def day_given(text: str, design: Design) -> date:
    """A day to come, as it is typed into a form. Raises ValueError with what is needed."""
    today = day_at(store().moment(), design.time_zone)
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise ValueError("a day is needed here, like 2026-12-06; left empty, it is shown at once") from None
    if day <= today:
        raise ValueError(f"it is {day_words(today)} already; choose a later day, or none to show it at once")
    return day


def keep_waiting(led: LedDesign, design: Design, day: date, instead_of: str) -> None:
    """Let a changed design wait for a day, in the place of one that waits already; answers 409 where too many do."""
    number = led.version.design
    change = WaitingChange(number, day.isoformat(), begins(day, design.time_zone), design.model_dump_json())
    if not store().waiting.keep(change, instead_of):
        abort(409, f"{MOST_WAITING} changes wait for their days, and no more can. Take one back, or change one.")


def waiting_for(link: str, day: str) -> Design:
    """The design as it is to be from a day on; answers 404 when nothing waits for that day."""
    led = changeable_design(link)
    refuse_where_parts_are_hidden(led)
    waiting = store().waiting.of_design(led.version.design)
    found = next((one for one in waiting if one.day == day), None)
    if found is None:
        abort(404, "Nothing waits for that day. It may have been revealed by now.")
    return _design(found)


def carry_on(number: int, before: Design, after: Design) -> None:
    """Bring a change that is made at once into those that wait, wherever they have left the design as it was."""
    for change in store().waiting.of_design(number):
        waiting = _design(change)
        carried = _carried(before, after, waiting)
        if carried != waiting:
            at = begins(date.fromisoformat(change.day), carried.time_zone)
            store().waiting.keep(WaitingChange(number, change.day, at, carried.model_dump_json()))


def _carried(before: Design, after: Design, waiting: Design) -> Design:
    """The waiting design with what is new in `after`; as it is where the two do not go together."""
    old, new, own = (one.model_dump(by_alias=True) for one in (before, after, waiting))
    for name, value in own.items():
        if name == "notes":
            parts = {**old[name], **new[name], **value}
            own[name] = {part: _newer(*(one[name].get(part, "") for one in (old, new, own))) for part in parts}
        else:
            own[name] = _newer(old[name], new[name], value)
    try:
        return Design.model_validate(own)
    except ValidationError:
        return waiting


def _newer(before: object, after: object, waiting: object) -> object:
    return after if waiting == before else waiting


def shown_waiting(led: LedDesign) -> Sequence[tuple[str, date, str]]:
    """What waits, for the leader's page: its day, the same as a date, and what it changes in what comes before."""
    found, before = [], led.design
    for change in store().waiting.of_design(led.version.design):
        design = _design(change)
        sock = "The sock is another. " if design.sock_alone() != before.sock_alone() else ""
        found.append((change.day, date.fromisoformat(change.day), f"{sock}{news_of(before, design)}".strip()))
        before = design
    return found


def _design(change: WaitingChange) -> Design:
    return design_of(change.document)
