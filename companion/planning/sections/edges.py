"""What the cast-on and the bind-off of the cuff must do: how far they stretch, and how much yarn they take."""

from __future__ import annotations

from ..units import both_units
from ..yarn import TAIL_CM, TIMES_THE_WIDTH
from .base import Aim

FIRM_EDGE = 1.25
"""How far an ordinary edge stretches (ours); plain jersey stretches by 30 to 60 % in width."""


def tail_cm(aim: Aim, stitches: int) -> float:
    """Yarn for an edge over so many stitches, and an end to weave in."""
    return TIMES_THE_WIDTH * aim.fabric.width(stitches) + TAIL_CM


def _stretch(aim: Aim, stitches: int) -> tuple[float, float]:
    """The widest that the edge must let through, in cm, and how many times its own width that is."""
    widest = max(aim.fit.body.heel_diagonal, aim.fit.body.leg)
    return widest, widest / aim.fabric.width(stitches)


def cast_on_advice(aim: Aim, stitches: int) -> str:
    """How to cast on at the cuff."""
    widest, times = _stretch(aim, stitches)
    how = "over two needles held together, or with a stretchy cast-on" if times > FIRM_EDGE else "loosely"
    return (
        f"Cast on {how}: the edge must stretch to {both_units(widest)}, {times:.1f} times its width. "
        f"A long tail takes {both_units(tail_cm(aim, stitches))} with an end to weave in."
    )


def bind_off_advice(aim: Aim, stitches: int) -> str:
    """How to bind off at the cuff."""
    widest, times = _stretch(aim, stitches)
    how = "with a sewn or another stretchy bind-off" if times > FIRM_EDGE else "loosely"
    return (
        f"Bind off {how}: the edge must stretch to {both_units(widest)}, {times:.1f} times its width. "
        f"Sewing takes {both_units(tail_cm(aim, stitches))} of yarn with an end to weave in."
    )
