"""Self-striping yarn: how its stripes come out, and where sock two begins so that the socks match."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ..fit.targets import Fabric
from ..plan.document import Round, YarnNeed
from ..request.entries import YarnKey
from ..request.plan_request import PlanRequest, Yarn
from ..units import METRES_PER_YARD, both_units, both_yarn_lengths, counted, in_tenths
from .requirement import IN_HAND, YarnTaken

SURE = 0.1
"""The part by which the metres of a whole sock may be off (ours, as much as is kept in hand)."""

BEGIN_ALIKE = "Begin where a colour begins, and write down which: sock two begins at the same one."
"""How two socks of a self-striping yarn become alike (common practice)."""


def stripes_itself(request: PlanRequest) -> bool:
    """Whether the main yarn is self-striping."""
    return request.yarns[0].colour_repeat_metres is not None


def begun_at_a_colour(rounds: tuple[Round, ...], done: int, main: YarnKey) -> tuple[tuple[Round, ...], bool]:
    """The rounds, the first in the main yarn saying where in it to begin, and whether that one is still to come.

    Those already `done` stay as they are.
    """
    for number, item in enumerate(rounds):
        if any(loops and yarn in (None, main) for yarn, loops in item.drawn.items()):
            if number < done:
                return rounds, False
            begun = replace(item, note=" ".join(filter(None, [item.note, BEGIN_ALIKE])))
            return (*rounds[:number], begun, *rounds[number + 1 :]), False
    return rounds, True


def colour_repeat_warnings(
    request: PlanRequest, needs: Sequence[YarnNeed], leg: Round | None, fabric: Fabric
) -> tuple[str, ...]:
    """For each self-striping yarn how high its repeat is and what a match takes; `leg` is a usual round of the leg."""
    found: list[str] = []
    for number, (yarn, need) in enumerate(zip(request.yarns, needs, strict=True)):
        repeat = yarn.colour_repeat_metres
        if repeat is not None and need.metres_a_sock:
            name = "The yarn" if len(request.yarns) == 1 else f"Yarn {yarn.key}"
            alone = leg and number == 0 and not request.leg.chart
            high = _how_high(repeat, sum(YarnTaken(fabric, yarn.key).cm(leg).values()), fabric) if leg and alone else ""
            comes = f"{name} comes back to the same colour every {_to_a_tenth(repeat)}{high}."
            found.append(" ".join((comes, *_for_a_match(yarn, repeat, need))))
    return tuple(found)


def _to_a_tenth(metres: float) -> str:
    """A repeat as it is measured: half a metre of it is a round of another colour."""
    return f"{in_tenths(metres)} m ({in_tenths(metres / METRES_PER_YARD)} yd)"


def _how_high(repeat: float, a_round: float, fabric: Fabric) -> str:
    """How high a repeat of so many metres is on a tube whose rounds take so many cm each."""
    rounds = max(1, round(100 * repeat / a_round))
    return f", on the leg about every {counted(rounds, 'round')}, {both_units(fabric.height(rounds))}"


def _for_a_match(yarn: Yarn, repeat: float, need: YarnNeed) -> Iterator[str]:
    wound = -need.metres_a_sock % repeat
    about = f", by the stitches about {both_yarn_lengths(wound)}" if 2 * SURE * need.metres_a_sock < repeat else ""
    yield (
        "For socks that match wind off what is left to the colour that sock one began with, before sock two: at most "
        f"{_to_a_tenth(repeat)}{about}."
    )
    at_hand = yarn.grams * yarn.metres_per_100g / 100
    pair = need.grams_a_pair / IN_HAND * yarn.metres_per_100g / 100
    if need.enough and pair + repeat > at_hand:
        over = both_yarn_lengths(at_hand - pair)
        yield f"That may take more than the {over} that are over: then begin sock two as it comes."
