"""What the newest try-on of a sock means for its rest. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from ..planning.recalculation.try_on import Felt, TriedOn, after_try_on
from .evidence import known_of
from .logbook import Entry, standing
from .state import PairState, SockPosition


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
