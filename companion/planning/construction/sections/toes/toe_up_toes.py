"""Toes that begin the sock: wedge and round from a closed cast-on, short rows from a provisional one."""

from __future__ import annotations

from dataclasses import replace

from ....fit.targets import nearest
from ....plan.document import Round
from ....plan.rounds import Ops, evenly, fabric_rounds, op, row
from ...shaping import wedge_toe
from ..base import Aim, Build, Built, Knitted, Part, Progress
from ..short_rows import CORNERS, Hourglass, hourglass, rows_from_the_fold
from .round_toe import ROUND, STAR, TIP, Tapering
from .toe_starts import toe_cast_on

SPARE_CHAINS = 4
"""Chains more than stitches, so that a bump that is hard to find can be left out (common practice)."""


def _halves(foot: int) -> tuple[int, int]:
    return foot // 2, foot - foot // 2


def _finished(before: Progress, rounds: tuple[Round, ...], foot_rounds: int | None = None) -> Built:
    """The sole is the first half of the foot."""
    sole, instep = _halves(rounds[-1].after)
    progress = before.after(rounds, on_foot=True, sole=sole, instep=instep, foot=sole + instep)
    return rounds, progress if foot_rounds is None else replace(progress, foot_rounds=foot_rounds)


def _kept(knitted: Knitted, whole: tuple[Round, ...]) -> tuple[Round, ...] | None:
    """The whole toe when it begins with the stitches of the knitted part; None when it was begun for another foot."""
    done = len(knitted.rounds)
    alike = [item.work for item in whole[:done]] == [item.work for item in knitted.rounds]
    return knitted.rounds + whole[done:] if alike else None


def _both_halves(sole: int, instep: int, *, widens: bool) -> Round:
    def ops(stitches: int) -> Ops:
        return op("k") + op("m1r") + op("k", stitches - 2) + op("m1l") + op("k") if widens else op("k", stitches)

    return row(
        ("sole", ops(sole)),
        ("instep", ops(instep)),
        before=sole + instep,
        kind="increase" if widens else "plain",
    )


def _each_side_once(half: int) -> Round:
    """Two increases, one at either side of the foot: at the beginning of each half."""
    ops = op("k") + op("m1r") + op("k", half - 1)
    return row(("sole", ops), ("instep", ops), before=2 * half, kind="increase")


def _widening(sole: int, foot: int, fast: int) -> tuple[Round, ...]:
    """Four increases a round up to the foot: `fast` of them every round, then every second.

    The last round has two where four would be too many, as in a toe begun for another foot.
    """
    made = []
    while 2 * sole < foot:
        if fast <= 0:
            made.append(_both_halves(sole, sole, widens=False))
        whole = foot - 2 * sole > 2
        made.append(_both_halves(sole, sole, widens=True) if whole else _each_side_once(sole))
        sole += 2 if whole else 1
        fast -= 1
    return tuple(made)


def _widened_on(aim: Aim, rounds: tuple[Round, ...], foot: int) -> tuple[Round, ...]:
    """The rest of a wedge that was begun for another foot, with the length of a toe where that is still open.

    Once it widens every second round it goes on so: a kink would show more than half a centimetre does.
    """
    sole = rounds[-1].after // 2
    steps = max(0, -(-(foot - 2 * sole) // 4))
    left = nearest(aim.toe_rounds) - fabric_rounds(rounds)
    slowed = any(item.kind == "plain" for item in rounds)
    return _widening(sole, foot, 0 if slowed else 2 * steps - left)


def build_wedge(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """The mirror of the cuff-down wedge: increases every round, then every second round."""
    foot = aim.counts.foot
    toe = wedge_toe(*_halves(foot), aim.toe_rounds, of=foot)
    cast_on = toe_cast_on(toe.left, aim.request.construction.toe_start, "The round begins where the sole begins.")
    whole = (cast_on, *_widening(toe.left // 2, foot, toe.fast))
    rounds = knitted.rounds
    if not knitted.closed:
        rounds = _kept(knitted, whole) or rounds + _widened_on(aim, rounds, foot)
    return _finished(before, rounds)


def tapering(toe: Tapering) -> Build:
    """The mirror of a toe that is decreased evenly from the cuff down: more and more plain rounds between increases."""

    def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
        foot = aim.counts.foot
        counts = [*range(TIP + toe.points, foot, toe.points), foot]
        plain = toe.share(len(counts), max(0, nearest(aim.toe_rounds) - len(counts)))[::-1]
        cast_on = toe_cast_on(TIP, aim.request.construction.toe_start)
        rounds = knitted.rounds
        if not knitted.closed:
            whole = (cast_on, *_growing(TIP, list(zip(counts, plain, strict=True))))
            begun = rounds[-1].after if rounds else TIP
            left = [count for count in counts if count > begun]
            rounds = _kept(knitted, whole) or rounds + _growing(begun, [(count, toe.points // 4) for count in left])
        return _finished(before, rounds)

    return build


def _growing(stitches: int, steps: list[tuple[int, int]]) -> tuple[Round, ...]:
    made: list[Round] = []
    for count, plain in steps:
        made.append(row(("toe", evenly(stitches, count)), before=stitches, kind="increase"))
        stitches = count
        made += [row(("toe", op("k", stitches)), before=stitches)] * plain
    return tuple(made)


def build_short_row(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """An hourglass over half the foot; then the loops of the provisional cast-on become the instep."""
    half = aim.counts.foot // 2
    if knitted.rounds:
        half = knitted.rounds[0].after
    note = (
        f"Cast on {half} stitches provisionally: crochet a loose chain of {half + SPARE_CHAINS} with smooth waste "
        f"yarn, and take the needle through {half} of the bumps on its back. Your own yarn begins with the next row."
    )
    shape = Hourglass(half, by=aim.request.construction.short_rows)
    closing = row(
        ("sole", shape.closing()),
        ("instep", op("resume", half)),
        before=half,
        kind="pick-up",
        note=f"Knit across the sole. Take the waste yarn out, put its {half} loops on a needle, the last of them the "
        f"half loop at the edge, and knit them: they are the instep. {CORNERS}",
    )
    cast_on = replace(row(("toe", op("co", half)), before=0, kind="setup", note=note), resting=half)
    whole = (cast_on, *hourglass("toe", shape, half, resting=half), closing)
    return _finished(before, knitted.rounds + whole[len(knitted.rounds) :], rows_from_the_fold(half))


TOE_UP_WEDGE = Part("toe", "Toe", "toe", build_wedge, countable=True, heeds=("toe_start",))
TOE_UP_ROUND = Part("toe", "Toe", "toe", tapering(ROUND), countable=True, heeds=("toe_start",))
TOE_UP_STAR = Part("toe", "Toe", "toe", tapering(STAR), countable=True, heeds=("toe_start",))
TOE_UP_SHORT_ROW = Part(
    "toe", "Toe", "toe", build_short_row, flat=True, holder=True, countable=True, heeds=("short_rows",)
)
