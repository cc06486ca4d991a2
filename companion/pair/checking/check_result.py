"""What all the checks of a pair mean for a sock at a place. Pure."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cached_property

from ...planning import CannotKnitError, recalculate
from ...planning.gauge.observations import Assumed, Evidence
from ...planning.recalculation.recalculate import Recalculation
from ..evidence import evidence_of
from ..logbook import SOCKS, Entry, standing
from ..pace import seconds_per_stitch, stitches_worked
from ..revisions import first_plan
from ..state import PairState, SockPosition
from .checks import KeptCheck, checks_kept, is_miscount, where_counted


@dataclass(frozen=True)
class CheckResult:
    """The recalculation of one sock from all that is known of the pair."""

    pair: PairState
    position: SockPosition

    @cached_property
    def checks(self) -> list[KeptCheck]:
        """Every check that was not taken back, the newest first."""
        return checks_kept(self.pair.entries)[::-1]

    @cached_property
    def lengths(self) -> list[Entry]:
        """Every length by tape that was not taken back, the newest first."""
        return standing(self.pair.entries, "length")[::-1]

    @cached_property
    def slips_possible(self) -> set[str]:
        """The ids of checks and lengths that can be left out."""
        return {entry.id for entry in self.lengths} | {one.id for one in self.checks}

    @cached_property
    def miscounts(self) -> set[str]:
        """The ids of checks that no fabric explains, which do not count."""
        first = self.pair.plan_of(first_plan(self.pair.revisions))
        return {one.id for one in self.checks if is_miscount(where_counted(one, self.pair.plan(one.sock)), first)}

    @cached_property
    def evidence(self) -> list[Evidence]:
        """All that is known of the pair's gauge."""
        return evidence_of(self.pair, self.position.sock)

    @cached_property
    def found(self) -> Recalculation | None:
        """The recalculation; None while nothing was counted. Raises CannotKnitError."""
        if all(isinstance(item, Assumed) for item in self.evidence):
            return None
        stitches = {sock: stitches_worked(self.pair.plan(sock)) for sock in SOCKS}
        pace = seconds_per_stitch(self.pair.recent_entries(), stitches)
        return recalculate(self.position.plan, self.position.done, self.evidence, pace)

    def found_or_fault(self) -> tuple[Recalculation | None, list[str]]:
        """The recalculation, or why there cannot be one."""
        try:
            return self.found, []
        except CannotKnitError as error:
            return None, [f"{error.fault}. Leave out the count that went wrong, below, and count once more."]

    @property
    def basis(self) -> str:
        """Names what it was calculated from: another plan, or one check more, and it is another name."""
        known = f"{self.pair.newest} {self.evidence!r}"
        return hashlib.sha256(known.encode()).hexdigest()[:16]
