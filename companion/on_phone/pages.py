"""The pages of a pair that a phone makes of what it keeps. Pure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from ..pair.changing.choice_page import CHOICES, ChoicePage
from ..pair.file import PairFile, file_in
from ..pair.history import logbook_shown
from ..pair.logbook import Sock
from ..pair.pattern_shown import pattern_of_pair, pattern_shown
from ..pair.plan_shown import pair_plan_shown
from ..pair.state import PairState
from ..planning.frozen_model import FrozenModel
from ..planning.units import Unit
from .rendering import whole_page


class Address(FrozenModel):
    """Where a page is: its `path`, the `version` of its static files, the sock and the rounds of it that are `done`
    (None: those of the logbook), and the unit of its lengths (None: that of the pair). `alone`: no server has the pair.
    """

    path: str
    version: str
    sock: Sock = 1
    done: int | None = None
    unit: Unit | None = None
    alone: bool = False

    @property
    def pair(self) -> str:
        """The path of the pair."""
        return "/".join(self.path.split("/")[:3])


class PhonePage(NamedTuple):
    """A template, and what it says of a pair at an address as its file has it."""

    template: str
    shown: Callable[[PairState, PairFile, Address], dict[str, Any]]


def _plan(pair: PairState, _: PairFile, address: Address) -> dict[str, Any]:
    links = {f"{name}_url": f"{address.pair}/{name}" for name in ("knit", "logbook")}
    return {**pair_plan_shown(pair, pair.unit, 0), **links, "only_here": address.alone}


def _pattern(pair: PairState, _: PairFile, address: Address) -> dict[str, Any]:
    return {**pattern_shown(pattern_of_pair(pair, pair.unit, {}, {})), "back": address.pair}


def _logbook(pair: PairState, file: PairFile, address: Address) -> dict[str, Any]:
    links = {f"{name}_url": f"{address.pair}/{name}" for name in ("knit", "export")}
    return {**logbook_shown(pair, file.log, file.changes(), None), **links, "plan_url": address.pair}


def _of_choice(choice: ChoicePage) -> PhonePage:
    def chosen(pair: PairState, _: PairFile, address: Address) -> dict[str, Any]:
        position = pair.position(address.sock)
        if address.done is not None:
            position = replace(position, done=max(0, min(address.done, position.plan.count)))
        return choice.shown(pair, position)

    return PhonePage(choice.template, chosen)


PAGES: Mapping[str, PhonePage] = {
    "plan": PhonePage("pair/plan.html", _plan),
    "pattern": PhonePage("pair/pattern.html", _pattern),
    "logbook": PhonePage("pair/logbook.html", _logbook),
    **{name: _of_choice(choice) for name, choice in CHOICES.items()},
}
"""By the name that a phone asks with."""


def page_answer(page: str, text: str, address: Mapping[str, Any]) -> str:
    """A page of a pair, whole, as HTML. `text` is the file of the pair. Raises ValueError where that is not sound."""
    at = Address.model_validate(address)
    file = file_in(text)
    pair = file.as_state()
    template, shown = PAGES[page]
    words = shown(replace(pair, unit=at.unit or pair.unit), file, at)
    return whole_page(template, at.path, at.version, **{"cursor": 0, **words, "made_here": True})
