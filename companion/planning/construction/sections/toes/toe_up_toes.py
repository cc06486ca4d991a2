"""Toes that begin the sock: wedge and round from a closed cast-on, short rows from a provisional one."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ....fit.targets import nearest
from ....plan.document import Round
from ....plan.rounds import Ends, Ops, evenly, fabric_rounds, op, row, takes
from ...shaping import Rhythm, one_sided, wedge_toe
from ..base import Aim, Build, Built, Knitted, Part, Progress
from ..short_rows import CORNERS, Hourglass, hourglass, rows_from_the_fold
from .round_toe import ROUND, STAR, TIP, Tapering
from .toe_common import ACROSS, ToTheFoot, one_ended
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


def _widened(stitches: int, ends: Ends) -> Ops:
    """A zone with one stitch more at these ends."""
    first = op("k") + op("m1r") if ends != "last" else ()
    last = op("m1l") + op("k") if ends != "first" else ()
    return first + op("k", stitches - takes(first + last)) + last


def _both_halves(half: int, at: Ends | None) -> Round:
    """A round over sole and instep, with increases at these ends of the sole, and beside them on the instep."""
    return row(
        ("sole", _widened(half, at) if at else op("k", half)),
        ("instep", _widened(half, ACROSS[at]) if at else op("k", half)),
        before=2 * half,
        kind="increase" if at else "plain",
    )


def _each_side_once(half: int) -> Round:
    """Two increases, one at either side of the foot: at the beginning of each half."""
    ops = _widened(half, "first")
    return row(("sole", ops), ("instep", ops), before=2 * half, kind="increase")


def _widening(sole: int, foot: int, fast: int, one_side: int = 0, at: Ends = "both") -> tuple[Round, ...]:
    """Four increases a round up to the foot: `fast` of them every round, then every second.

    The last `one_side` of them are two, on one side only; so is the last where four would be too many, as in a toe
    begun for another foot, but on either side of the foot.
    """
    made = []
    while 2 * sole < foot:
        if fast <= 0:
            made.append(_both_halves(sole, None))
        left = foot - 2 * sole
        at_both = left > max(2, 2 * one_side)
        made.append(_both_halves(sole, "both" if at_both else at) if at_both or one_side else _each_side_once(sole))
        sole += 2 if at_both else 1
        fast -= 1
    return tuple(made)


@dataclass(frozen=True)
class WideningWedge:
    """The mirror of a cuff-down wedge: increases every round, then every second round.

    One that is shaped `to` a foot ends with increases at the little toe's side alone.
    """

    to: ToTheFoot | None = None

    def build(self, aim: Aim, before: Progress, knitted: Knitted) -> Built:
        """The toe from its closed tip to the foot."""
        foot = aim.counts.foot
        toe = wedge_toe(*_halves(foot), aim.toe_rounds, of=foot, rhythm=Rhythm(one_side=self._one_side(aim)))
        closing = ["The round begins where the sole begins."]
        if self.to:
            closing.append(self.to.said("goes on widening longer at the little toe's side"))
        cast_on = toe_cast_on(toe.left, aim.request.construction.toe_start, " ".join(closing))
        widening = _widening(toe.left // 2, foot, toe.fast, toe.one_side, self._at)
        whole = (cast_on, *self._with_note(widening))
        rounds = knitted.rounds
        if not knitted.closed:
            rounds = _kept(knitted, whole) or self._with_note(rounds + self._widened_on(aim, rounds, foot))
        return _finished(before, rounds)

    @property
    def _at(self) -> Ends:
        return self.to.little_toe if self.to else "both"

    def _one_side(self, aim: Aim) -> int:
        return one_sided(aim.toe_rounds) if self.to else 0

    def _with_note(self, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
        """The rounds, the first that widens at one side alone saying so."""
        first = next((number for number, item in enumerate(rounds) if self.to and one_ended(item)), None)
        if first is None or rounds[first].note:
            return rounds
        return (*rounds[:first], replace(rounds[first], note=ONE_SIDE_ON), *rounds[first + 1 :])

    def _widened_on(self, aim: Aim, rounds: tuple[Round, ...], foot: int) -> tuple[Round, ...]:
        """The rest of a wedge that was begun for another foot, with the length of a toe where that is still open.

        Once it widens every second round it goes on so: a kink would show more than half a centimetre does.
        """
        sole = rounds[-1].after // 2
        one_side = min(self._one_side(aim), max(0, (foot - 2 * sole) // 2))
        if self.to and any(map(one_ended, rounds)):
            one_side = max(0, (foot - 2 * sole) // 2)
        steps = max(0, -(-(foot - 2 * sole - 2 * one_side) // 4)) + one_side
        left = nearest(aim.toe_rounds) - fabric_rounds(rounds)
        slowed = any(item.kind == "plain" for item in rounds)
        return _widening(sole, foot, 0 if slowed else 2 * steps - left, one_side, self._at)


ONE_SIDE_ON = "From here on the toe widens at the little toe's side alone."


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


TOE_UP_WEDGE, TOE_UP_LEFT, TOE_UP_RIGHT = (
    Part("toe", "Toe", "toe", WideningWedge(to).build, countable=True, follows=("toe_start",))
    for to in (None, ToTheFoot("left foot", "last"), ToTheFoot("right foot", "first"))
)
"""From the toe up a round on the left foot begins at the big toe, and on the right foot at the little one."""

TOE_UP_ROUND = Part("toe", "Toe", "toe", tapering(ROUND), countable=True, follows=("toe_start",))
TOE_UP_STAR = Part("toe", "Toe", "toe", tapering(STAR), countable=True, follows=("toe_start",))
TOE_UP_SHORT_ROW = Part(
    "toe", "Toe", "toe", build_short_row, flat=True, holder=True, countable=True, follows=("short_rows",)
)
