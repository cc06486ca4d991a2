"""Stripes under a stitch pattern: the pattern works by stitches, and each whole round has the yarn of its stripe.

The stripes go on through every round of the parts that show the pattern, also where it is plain. Rows of a heel stay in
the main yarn. Which stripe a round has follows from the rounds that were knitted in stripes before it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from ..plan.document import Round
from ..request.entries import YarnKey
from ..request.plan_request import PlanRequest
from ..stitches.fabric import PURLED
from .own_yarn import in_yarn
from .painter import at_stripes

STEP = (
    "Stripes: where a new colour begins the rounds meet in a step. Where a round begins with a single stitch, slip it "
    "purlwise in the second round of the new colour, and the step is drawn level. Carry the waiting yarn up inside."
)
"""How a change of colour in the round is hidden (common practice)."""

BUMPS = "Purl stitches in the first round of a colour show the one before as well: knit them there for sharp stripes."
"""Common practice; as a purl and as a knit stitch it takes and gives one, so that the counts stay."""

Rounds = tuple[Round, ...]


@dataclass(frozen=True)
class Stripes:
    """The yarns of the stripes, a letter a round, and the main yarn, which is not named."""

    rows: tuple[str, ...]
    main: YarnKey
    purled: bool

    def lay(self, rounds: Rounds, done: int, before: int) -> tuple[Rounds, int]:
        """A section's rounds in stripes behind the first `done`, and how many rounds are then striped in all."""
        laid = list(rounds)
        known: dict[tuple[int, str], Round] = {}
        for number, item in enumerate(rounds):
            if item.side != "round":
                continue
            if number >= done:
                at = id(item), self.rows[before % len(self.rows)]
                known[at] = known.get(at) or self._in_its_yarn(*at, item)
                laid[number] = known[at] if before else self._begun(known[at])
            before += 1
        return tuple(laid), before

    def _in_its_yarn(self, _item: int, key: str, item: Round) -> Round:
        return in_yarn(item, None if key == self.main else _KEYS[key])

    def _begun(self, item: Round) -> Round:
        """The first round of all, with what to mind where colours change."""
        said = at_stripes(self.rows, STEP)
        if not said:
            return item
        return replace(item, note=" ".join(filter(None, [item.note, *said, BUMPS if self.purled else None])))


_KEYS: dict[str, YarnKey] = {"A": "A", "B": "B", "C": "C", "D": "D"}


@lru_cache(maxsize=64)
def stripes_of(request: PlanRequest) -> Stripes | None:
    """The stripes under the stitch pattern of a leg; None where there are none."""
    leg = request.leg
    if leg.chart is None or leg.stitch_pattern is None:
        return None
    purled = any(name in PURLED for names in leg.stitch_pattern.rounds for name in names)
    return Stripes(leg.chart.rows, request.yarns[0].key, purled)
