"""Laying a stitch pattern that is a panel over rounds that are already shaped.

The panel lies on the middle of the front, and of the instep below it, with its columns beside it; where the leg is
shaped at the centre back they stop on either side of that. With a second panel there it is shaped between the two.
"""

from __future__ import annotations

from functools import lru_cache

from ..plan.document import Zone
from ..plan.rounds import Ops, makes, takes
from ..request.stitch_pattern import StitchPattern
from ..stitches.operations import Names
from ..stitches.panel import LEANS, Panel
from ..units import counted
from .stretches import apart, joined, repeats_of, stretch


@lru_cache(maxsize=4096)
def panel_on_the_leg(panel: Panel, number: int, ops: Ops, front: int, *, back: bool) -> Ops:
    """A round of the leg (from 0) with the panel on its front, the last of its stitches, and on its `back` too.

    A pair of changes at the centre back goes to both sides where the panel lies on it.
    """
    shown = repeats_of(panel.columns, number, panel.first, panel.width)
    before, after = panel.beside_on(front)
    sides = panel.sides(front, takes(ops), back=back)
    if back:
        one, other = map(panel.between, sides)
        if by := (makes(ops) - takes(ops)) // 2:
            # A round ends with the first `after` stitches of one side.
            one = panel.changed(sides[0], by, leans=LEANS[by][0], at_least=after)
            other = panel.changed(sides[1], by, leans=LEANS[by][1])
        begins, ends = _outside(panel, one[after:]), _outside(panel, one[:after])
        return joined(begins, shown, _outside(panel, other), shown, ends)
    plain_before, shaped, plain_after = apart(ops)
    if not shaped:
        around = panel.between(sides[0])
        return joined(_outside(panel, around[after:]), shown, _outside(panel, around[:after]))
    return joined(
        _outside(panel, panel.after(after + plain_before)[after:]),
        shaped,
        _outside(panel, panel.before(plain_after - front + before)),
        shown,
        _outside(panel, panel.after(after)),
    )


@lru_cache(maxsize=4096)
def panel_on_the_instep(panel: Panel, number: int, stitches: int) -> Ops:
    """A round (from 0) of an instep of so many stitches with the panel on its middle."""
    before, after = panel.beside_on(stitches)
    return joined(
        _outside(panel, panel.before(before)),
        repeats_of(panel.columns, number, panel.first, panel.width),
        _outside(panel, panel.after(after)),
    )


def _outside(panel: Panel, names: Names) -> Ops:
    return stretch(names, len(panel.beside))


def panel_in_words(pattern: StitchPattern, panel: Panel, zone: Zone, stitches: int) -> str:
    """What is said where the panel begins, on the leg or on an instep of so many stitches."""
    placed = pattern.placement
    assert placed is not None
    if zone == "instep":
        return f"The panel goes on over the {panel.width} stitches in the middle of the instep's {stitches}."
    name = f"{pattern.name}, " if pattern.name else ""
    where = "its front, and another on its back" if placed.on == "front and back" else "its front"
    alike = " It begins and ends alike." if panel.columns.ends_alike(panel.first, panel.width) else ""
    beside = {"plain": "plain", "purl": "purl"}.get(placed.beside, f"{placed.beside}, beginning next to it")
    return (
        f"The leg has a panel of {panel.width} stitches in pattern on the middle of {where}: {name}"
        f"{counted(pattern.height, 'round')} over and over.{alike} The stitches beside it are {beside}."
    )
