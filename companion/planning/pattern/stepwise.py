"""Rounds as steps to follow: those worked by hand stitch by stitch, and those of a stitch pattern repeat by repeat.

What a round is, is read from its operations alone. The steps by hand, closing a toe, waste yarn and short rows, are
common practice, written down in many technique articles.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

from ..construction.sections.toes.toe_up_toes import SPARE_CHAINS
from ..plan.document import Op, Repeat, Round
from ..plan.rounds import takes
from ..stitches.operations import CABLES, OPERATIONS
from .rounds_text import ops_words
from .short_row_steps import short_row_steps


class HandPart(NamedTuple):
    """A step to follow, how many times it is done before the next one, and what is done each time."""

    text: str
    times: int
    each: Literal["stitch", "repeat"] = "stitch"


def parts_of(item: Round) -> tuple[HandPart, ...]:
    """The steps of closing a toe, of a provisional cast-on or its loops, or of an opening kept by waste yarn.

    Also those of short rows whose turns are new. None at all for a round that its own words tell well enough.
    """
    grafted, rested, resumed = (item.uses(name) for name in ("graft", "rest", "resume"))
    drawn = item.uses("draw")
    if grafted:
        parts = _grafting(grafted)
    elif drawn:
        parts = _drawing_together(drawn)
    elif rested:
        parts = _waste_yarn_in(rested, takes(item.ops) - rested)
    elif resumed and item.uses("pu"):
        parts = _waste_yarn_out(resumed, (item.uses("pu") - resumed) // 2)
    elif resumed:
        parts = _chain_out(resumed, takes(item.ops))
    elif item.resting and not item.before:
        parts = _chain_in(item.uses("co"))
    else:
        parts = tuple(HandPart(*step) for step in short_row_steps(item))
    return tuple(part for part in parts if part.times)


def repeats_of(item: Round) -> tuple[HandPart, ...]:
    """The repeats of a round that have lace or cables in them, each a step, and what is worked between them.

    None at all for a round without such a repeat.
    """
    if not any(_is_worked_with_care(each.ops) for each in item.ops if isinstance(each, Repeat)):
        return ()
    parts = []
    for work in item.work:
        zone = f"{work.zone.capitalize()}: " if len(item.work) > 1 else ""
        between: list[Op | Repeat] = []
        for each in (*work.ops, None):
            stepped = isinstance(each, Repeat) and _is_worked_with_care(each.ops)
            if each and not stepped:
                between.append(each)
            elif between:
                parts.append(HandPart(zone + ops_words(between), 1))
                between = []
            if isinstance(each, Repeat) and stepped:
                parts.append(HandPart(zone + ops_words(each.ops), each.times, "repeat"))
    return tuple(parts)


def _is_worked_with_care(ops: Iterable[Op | Repeat]) -> bool:
    """Whether there are yarn overs, decreases or cables among them: a slip shows only after they are counted."""
    return any(
        _is_worked_with_care(each.ops)
        if isinstance(each, Repeat)
        else each.op in CABLES or OPERATIONS[each.op].takes != OPERATIONS[each.op].makes
        for each in ops
    )


def _grafting(pairs: int) -> tuple[HandPart, ...]:
    """Each stitch is gone through twice, and leaves its needle the second time."""
    return (
        HandPart("Front needle: first stitch purlwise, leave on. Back needle: first stitch knitwise, leave on.", 1),
        HandPart(
            "Front needle: first stitch knitwise, slip off; next purlwise, leave on. "
            "Back needle: first stitch purlwise, slip off; next knitwise, leave on.",
            pairs - 1,
        ),
        HandPart("Front needle: last stitch knitwise, slip off. Back needle: last stitch purlwise, slip off.", 1),
        HandPart("Draw the yarn to the inside, even out the grafted stitches, and weave in the end.", 1),
    )


def _drawing_together(stitches: int) -> tuple[HandPart, ...]:
    return (
        HandPart("Take the tapestry needle through the next stitch purlwise, and leave it on.", stitches),
        HandPart("Take it through the next stitch once more, and slip that off.", stitches),
        HandPart("Draw the hole shut, take the yarn to the inside, fasten it, and weave in the end.", 1),
    )


def _chain_in(stitches: int) -> tuple[HandPart, ...]:
    return (
        HandPart(
            f"Crochet a loose chain of {stitches + SPARE_CHAINS} with smooth waste yarn. Cut it, draw the end through "
            "the last loop, and knot it: the chain will open from there.",
            1,
        ),
        HandPart("Take the needle through the next bump on the back of the chain: it is one stitch.", stitches),
        HandPart("Your own yarn begins with the next row, which knits them.", 1),
    )


def _chain_out(loops: int, stitches: int) -> tuple[HandPart, ...]:
    """The loops hang between the stitches of the first row, so that the one at the edge is half a loop."""
    return (
        HandPart("Work the stitches on the needle as the round says.", 1 if stitches else 0),
        HandPart("Undo the chain at its knotted end.", 1),
        HandPart("Draw the waste yarn out of one loop and put the loop on a free needle, untwisted.", loops - 1),
        HandPart("Lift the half loop at the edge onto the needle: it counts as the last one.", 1),
        HandPart("Knit one of these loops.", loops),
    )


def _waste_yarn_in(heel: int, others: int) -> tuple[HandPart, ...]:
    return (
        HandPart("Let your yarn hang. Knit one stitch with smooth waste yarn.", heel),
        HandPart(f"Slip the {heel} waste yarn stitches back to the left needle.", 1),
        HandPart("Take your own yarn again and knit one waste yarn stitch.", heel),
        HandPart("Work the other stitches as the round says.", 1 if others else 0),
    )


def _waste_yarn_out(heel: int, corner: int) -> tuple[HandPart, ...]:
    return (
        HandPart("First needle: under the right leg of the next stitch in the round before the waste yarn.", heel),
        HandPart("Other needle: under the right leg of the next stitch in the round after the waste yarn.", heel),
        HandPart("Pick one stitch of the waste yarn out.", heel),
        HandPart("Join your yarn. Knit one stitch of the first needle.", heel),
        HandPart("Pick up and knit one stitch in the corner.", corner),
        HandPart("Knit one stitch of the other needle.", heel),
        HandPart("Pick up and knit one stitch in the other corner.", corner),
    )
