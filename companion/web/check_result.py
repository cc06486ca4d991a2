"""What all the checks of a pair mean for a sock at a place."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cached_property

from ..kept_checks import KeptCheck, checks_kept, is_miscount
from ..logbook import SOCKS, Entry, left_out
from ..pace import seconds_per_stitch, stitches_worked
from ..planning.faults import CannotKnitError
from ..planning.observed import Assumed
from ..planning.recalculation import Recalculation, recalculate
from .check_place import CheckPlace
from .evidence_of import evidence_of
from .open_pair import OpenPair


@dataclass(frozen=True)
class CheckResult:
    """The recalculation of one sock from all that is known of the pair."""

    pair: OpenPair
    place: CheckPlace

    @cached_property
    def checks(self) -> list[KeptCheck]:
        """Every check in the logbook, the newest first."""
        return checks_kept(self.pair.entries.values())[::-1]

    @cached_property
    def lengths(self) -> list[tuple[Entry, bool]]:
        """Every length by tape in the logbook, the newest first, and whether it was left out again."""
        slips = left_out(self.pair.entries.values())
        told = sorted(self.pair.entries.values(), key=Entry.order, reverse=True)
        return [(entry, entry.id in slips) for entry in told if entry.kind == "length"]

    @cached_property
    def slips_possible(self) -> set[str]:
        """The ids of checks and lengths that can be left out."""
        lengths = {entry.id for entry, out in self.lengths if not out}
        return lengths | {one.id for one in self.checks if not one.left_out}

    @cached_property
    def miscounts(self) -> set[str]:
        """The ids of checks that no fabric explains, which do not count."""
        first = self.pair.plan_of(self.pair.revisions[0])
        return {one.id for one in self.checks if is_miscount(one.check, first)}

    @cached_property
    def found(self) -> Recalculation | None:
        """The recalculation; None while nothing was counted. Raises CannotKnitError."""
        evidence = evidence_of(self.pair)
        if all(isinstance(item, Assumed) for item in evidence):
            return None
        stitches = {sock: stitches_worked(self.pair.plan(sock)) for sock in SOCKS}
        pace = seconds_per_stitch(self.pair.entries.values(), stitches)
        return recalculate(self.place.plan, self.place.done, evidence, pace)

    def found_or_fault(self) -> tuple[Recalculation | None, list[str]]:
        """The recalculation, or why there cannot be one."""
        try:
            return self.found, []
        except CannotKnitError as error:
            return None, [f"{error.fault}. Leave out the count that went wrong, below, and count once more."]

    @property
    def basis(self) -> str:
        """Names what it was worked out from: another plan, or one check more, and it is another name."""
        known = f"{self.pair.newest} {evidence_of(self.pair)!r}"
        return hashlib.sha256(known.encode()).hexdigest()[:16]
