"""Where the first round of another yarn still shows the one before, and how its edge is made sharp.

The loop that a purl stitch is drawn through shows as a bump in the old colour; a slipped stitch is the old loop itself.
Where such a stitch is knitted in that row or round neither happens (common practice).
"""

from __future__ import annotations

from collections.abc import Set
from itertools import accumulate

from ..plan.document import Round
from ..plan.rounds import one_by_one
from ..stitches.fabric import PURLED
from ..stitches.operations import OPERATIONS

BUMPS = "Its purl stitches show the colour before as well: knit them in this round for a sharp edge."
ABOVE_THE_HEEL = (
    "Its purl stitches above the heel show the heel's colour as well: knit them in this round for a sharp edge."
)
SLIPPED = "Its slipped stitches stay in the colour before: knit them too for a sharp edge."


def shows_the_old(item: Round, before: Round | None, main: str) -> str | None:
    """What is said of a round or row where it begins with other yarns than the one before it; None where nothing shows.

    `main` is the key of the yarn that is not named. Of stripes it is said once, where they begin.
    Zones that the one before did not work lie over other stitches; but the first half of a leg lies over the rows of a
    heel from the toe up.
    """
    in_stripes = before is not None and before.chart_row and item.chart_row
    if before is None or in_stripes or not item.before or _yarns(item, main) & _yarns(before, main):
        return None
    if item.side != "round":
        return SLIPPED if item.uses("sl", "slwyif") > 1 else None
    if before.side != "round" and item.work[0].zone == "leg":
        return ABOVE_THE_HEEL if _purls_in_its_first_half(item) else None
    beside = {part.zone for part in before.work}
    purled = any(each.op in PURLED for part in item.work if part.zone in beside for each in one_by_one(part.ops))
    return BUMPS if purled else None


def _purls_in_its_first_half(item: Round) -> bool:
    worked = [each.op for each in one_by_one(item.work[0].ops)]
    taken = accumulate((OPERATIONS[name].takes for name in worked), initial=0)
    return any(name in PURLED and before < item.before // 2 for name, before in zip(worked, taken, strict=False))


def _yarns(item: Round, main: str) -> Set[str]:
    return {yarn or main for yarn, loops in item.drawn.items() if loops}
