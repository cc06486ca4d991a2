"""Saving a design: as it is seen today, and as it is to be seen from each day on that reveals more."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from ....group.hidden_parts import as_seen, seen_later
from ....group.news import news_of
from ....group.stages import begins, day_at
from ....planning.plan.design import Design
from ....planning.plan.document import PartOfSock
from ....store.group.waiting import Waits
from ....store.group.whole_designs import WholeDesign
from ...links import follower_link
from ...open_pair import store
from ..open_design import OpenDesign, design_of


def whole_design(opened: OpenDesign) -> Design:
    """The design as its leader made it, with what her followers do not see yet."""
    seen = opened.design
    if not seen.hidden_until:
        return seen
    *_, last = store().waiting.of_design(opened.version.design)
    return design_of(last.document).model_copy(update={"hidden_until": seen.hidden_until})


def begin_design(leader: str, whole: Design, photos: Mapping[PartOfSock, bytes] | None = None) -> None:
    """Begin a design under a leader's link. Raises LinkTakenError where that opens one already."""
    seen = as_seen(whole, _today(whole)).model_dump_json()
    store().whole_designs.add(leader, follower_link(leader), WholeDesign([seen], photos or {}, waiting=_waiting(whole)))


def change_design(opened: OpenDesign, whole: Design) -> None:
    """Keep a changed design, and tell its followers what of that they see. Raises StaleDesignError."""
    seen = as_seen(whole, _today(whole))
    hides = opened.design.hidden_until or whole.hidden_until
    store().designs.add_version(
        opened.version,
        seen.model_dump_json(),
        news_of(opened.design, seen),
        _waiting(whole) if hides else None,
    )


def waits(day: date, design: Design) -> Waits:
    """A design that waits for a day."""
    return day.isoformat(), begins(day, design.time_zone), design.model_dump_json()


def _waiting(whole: Design) -> list[Waits]:
    return [waits(day, seen) for day, seen in seen_later(whole, _today(whole))]


def _today(design: Design) -> date:
    return day_at(store().moment(), design.time_zone)
