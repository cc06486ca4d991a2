"""Rounds as steps to follow: those worked by hand stitch by stitch, and those of a stitch pattern repeat by repeat.

What a round is, is read from its operations alone. The steps by hand, closing a toe, waste yarn and short rows, are
common practice, written down in many technique articles.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import Literal, NamedTuple

from ..construction.sections.toes.toe_up_toes import SPARE_CHAINS
from ..plan.document import Op, Repeat, Round
from ..plan.rounds import Ops, makes, takes
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


LEAST_STEP = 8
"""Stitches that a step of a long stretch has at least (ours)."""


def repeats_of(item: Round) -> tuple[HandPart, ...]:
    """The repeats of a round that have lace or cables in them, each a step, and what is worked between them.

    A long stretch of lace or cables that repeats nothing is cut into steps as well. None at all for a round without
    such a repeat or stretch.
    """
    parts: list[HandPart] = []
    stepped = False
    for work in item.work:
        zone = f"{work.zone.capitalize()}: " if len(item.work) > 1 else ""
        for repeats, ops in groupby(work.ops, key=_repeat_with_care):
            if repeats:
                parts += [HandPart(zone + ops_words(repeats.ops), repeats.times, "repeat") for _ in ops]
            else:
                pieces = _cut(tuple(ops))
                parts += [HandPart(zone + ops_words(piece), 1) for piece in pieces]
            stepped |= repeats is not None or len(pieces) > 1
    return tuple(parts) if stepped else ()


def _repeat_with_care(each: Op | Repeat) -> Repeat | None:
    return each if isinstance(each, Repeat) and _is_worked_with_care(each.ops) else None


def _cut(ops: Ops) -> list[Ops]:
    """A stretch in pieces with lace or cables that give back what they take; whole where it has only one such piece."""
    pieces: list[Ops] = []
    piece: Ops = ()
    for each in ops:
        piece += (each,)
        if takes(piece) == makes(piece) >= LEAST_STEP and _is_worked_with_care(piece):
            pieces.append(piece)
            piece = ()
    if len(pieces) < 2:
        return [ops]
    if makes(piece) < LEAST_STEP:
        return [*pieces[:-1], pieces[-1] + piece]
    return [*pieces, piece]


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
