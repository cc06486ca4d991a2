"""What the newest try-on of a sock means for its rest. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from ...drawings.fabric_preview import fabric_preview
from ...planning.recalculation.try_on import Felt, TriedOn, after_try_on
from ..evidence import known_of
from ..logbook import Entry, standing
from ..state import PairState, SockPosition
from .accepted import Accepted


@dataclass(frozen=True)
class FitResult:
    """What was felt when a sock was tried on last, and the ways to go on from where the sock is now."""

    pair: PairState
    position: SockPosition

    @cached_property
    def entries(self) -> Sequence[Entry]:
        """The try-ons of the sock at the round where it was tried on last, the newest for each part of it."""
        entries = [one for one in standing(self.pair.entries, "try-on") if one.sock == self.position.sock]
        last = [one for one in entries if one.round == entries[-1].round]
        return list({(one.data or {})["where"]: one for one in last}.values())

    @cached_property
    def found(self) -> Sequence[TriedOn]:
        """What each of them means, with its ways to go on."""
        gauges = known_of(self.pair, self.position.sock).plain
        plan, done = self.position.plan, self.position.done
        return [after_try_on(plan, done, Felt.model_validate(one.data), gauges) for one in self.entries]

    @property
    def basis(self) -> str:
        """Names what this was calculated from: the plan, and the try-ons."""
        return " ".join([str(self.pair.newest), *(one.id for one in self.entries)])


def fit_shown(result: FitResult) -> dict[str, Any]:
    """What the page of a try-on says."""
    return {
        "pair_title": result.pair.title,
        "unit": result.pair.unit,
        "place": result.position.in_words(),
        "sock": result.position.sock,
        "round": result.position.done,
        "basis": result.basis,
        "found": result.found,
        "previews": {
            (tried.felt.where, option.key): fabric_preview(result.position.plan, option.plan, option.done)
            for tried in result.found
            for option in tried.options
        },
    }


def fit_taken(result: FitResult, choice: str) -> Accepted | None:
    """The way to go on that `choice` names by the part of the sock and its key ("leg rest"); None for no such."""
    where, _, key = choice.partition(" ")
    chosen = [(tried, one) for tried in result.found for one in tried.options]
    match = next(((tried, one) for tried, one in chosen if (tried.felt.where, one.key) == (where, key)), None)
    if match is None:
        return None
    tried, option = match
    position = result.position
    felt = f"{tried.felt.feels} at the {tried.felt.where}"
    return Accepted(
        sock=position.sock,
        done=position.done,
        title=f"{position.behind()}, {felt}: {option.title}",
        plan=option.plan,
        changes=option.changes,
        option=f"try-on {key}",
    )
