"""How much of each yarn a sock and a pair take."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Mapping, Sequence
from typing import TypeAlias

from ..fabric.chart import EXCHANGE, swaps
from ..fit.targets import Fabric
from ..plan.document import Plan, Round, ThreadNeed, YarnNeed
from ..plan.rounds import how_often, map_unique
from ..request.plan_request import PlanRequest
from ..units import both_weights, both_yarn_lengths
from .loops import LoopsInPattern, loop_length

Stretches: TypeAlias = Sequence[Sequence[Round]]

IN_HAND = 1.10
"""Yarn to have for each metre that the model asks for (ours)."""

TAIL_CM = 15
"""A tail that can be woven in (common practice)."""

TIMES_THE_WIDTH = 3
"""Long-tail cast-on and bind-off take about three times their width (common practice)."""

THREADED_CM = 20
"""More than the stitches take of an end that is sewn with: to thread, to hold, and to weave in (common practice)."""

WHOLE_ENDS_CM = 5
"""Ends are given in whole steps of this and never too short (ours): they are cut by eye."""


def edge_end(stitches: int, fabric: Fabric, times: float = TIMES_THE_WIDTH) -> float:
    """The end of yarn, in cm, that an edge of so many stitches is cast on from or sewn off with."""
    return _whole_end(times * fabric.width(stitches) + TAIL_CM)


def grafting_end(pairs: int, fabric: Fabric) -> float:
    """The end of yarn, in cm, to graft so many pairs of stitches: a pair takes a loop as any stitch does."""
    return _whole_end(pairs * loop_length(fabric) + THREADED_CM)


def _whole_end(cm: float) -> float:
    return math.ceil(cm / WHOLE_ENDS_CM) * WHOLE_ENDS_CM


class YarnTaken:
    """How much rounds in one fabric take of each yarn, `in_pattern` where those of a chart are in a stitch pattern.

    Operations that name no yarn take the `main` one.
    """

    def __init__(self, fabric: Fabric, main: str, *, in_pattern: bool = False) -> None:
        self._main, self._stitch = main, fabric.width(1)
        self._loop = loop_length(fabric)
        self._in_pattern = LoopsInPattern(fabric) if in_pattern else None

    def cm(self, item: Round) -> dict[str, float]:
        """Centimetres of each yarn in one round. It floats as long as the stitches before it are wide."""
        if self._in_pattern and item.chart_row:
            key = max(item.drawn, key=lambda each: item.drawn[each])
            return {key or self._main: self._in_pattern.cm(item)}
        used: dict[str, float] = {}
        for key, loops, in_edges, floats in item.by_yarn:
            yarn = key or self._main
            widths = TIMES_THE_WIDTH * in_edges + floats
            used[yarn] = used.get(yarn, 0.0) + loops * self._loop + widths * self._stitch
        return used


def metres_by_yarn(request: PlanRequest, rounds: Sequence[Round], fabric: Fabric, main: str) -> dict[str, float]:
    """Metres of each yarn in these rounds of what is asked for, with a tail at both ends of each."""
    used: dict[str, float] = {main: 2 * TAIL_CM}
    taken = _taken(request, fabric, main)
    for item, times in how_often(rounds):
        for yarn, cm in taken.cm(item).items():
            used[yarn] = used.get(yarn, 2 * TAIL_CM) + times * cm
    return {yarn: cm / 100 for yarn, cm in used.items()}


def each_cm_by_yarn(request: PlanRequest, rounds: Sequence[Round], fabric: Fabric, main: str) -> list[dict[str, float]]:
    """Centimetres of each yarn in each of the rounds of what is asked for."""
    return map_unique(rounds, _taken(request, fabric, main).cm)


def _taken(request: PlanRequest, fabric: Fabric, main: str) -> YarnTaken:
    return YarnTaken(fabric, main, in_pattern=request.leg.stitch_pattern is not None)


def a_pair(a_sock: Mapping[str, float], other: Mapping[str, float] | None = None, *, swap: bool) -> dict[str, float]:
    """Metres of each yarn for both socks, which are alike except with `swap`, where the second exchanges A and B.

    `other` has the metres of the second sock where it is for another foot.
    """
    second = a_sock if other is None else other
    second = {key.translate(EXCHANGE): metres for key, metres in second.items()} if swap else second
    return {key: a_sock.get(key, 0.0) + second.get(key, 0.0) for key in sorted({*a_sock, *second})}


def metres_of_the_pair(plan: Plan, number: int) -> float:
    """Metres of one of a plan's yarns, by its number, for both socks."""
    if plan.request.other_foot.given():
        return plan.yarn[number].grams_a_pair / IN_HAND / 100 * plan.request.yarns[number].metres_per_100g
    a_sock = {need.key: need.metres_a_sock for need in plan.yarn}
    return a_pair(a_sock, swap=swaps(plan.request))[plan.yarn[number].key]


def yarn_needs(
    request: PlanRequest, rounds: Sequence[Round], fabric: Fabric, other: Sequence[Round] | None = None
) -> tuple[YarnNeed, ...]:
    """What the first sock and the pair take of each yarn; the grams have a tenth in hand.

    The `other` sock has rounds of its own where the feet differ.
    """
    first = metres_by_yarn(request, rounds, fabric, request.yarns[0].key)
    second = None if other is None else metres_by_yarn(request, other, fabric, request.yarns[0].key)
    both = a_pair(first, second, swap=swaps(request))
    needs = []
    for yarn in request.yarns:
        grams = both.get(yarn.key, 0.0) * IN_HAND / yarn.metres_per_100g * 100
        needs.append(
            YarnNeed(
                key=yarn.key,
                metres_a_sock=round(first.get(yarn.key, 0.0), 1),
                grams_a_pair=round(grams, 1),
                enough=grams <= yarn.grams,
            )
        )
    return tuple(needs)


def thread_need(
    request: PlanRequest, stretches: Stretches, fabric: Fabric, other: Stretches | None = None
) -> ThreadNeed | None:
    """What reinforcing thread a pair takes: as long as the loops that it is held along, with a tail at each end.

    Each of the `stretches` is knitted with it without a break; the `other` sock has its own where the feet differ.
    None where no thread is asked for.
    """
    thread = request.reinforcing_thread
    if not thread.parts:
        return None
    metres = _metres_along(stretches, fabric)
    both = metres + (metres if other is None else _metres_along(other, fabric))
    each_100g = thread.metres_per_100g
    return ThreadNeed(
        metres_a_sock=round(metres, 1),
        metres_a_pair=round(both, 1),
        grams_a_pair=round(both * IN_HAND / each_100g * 100, 1) if each_100g else None,
    )


def _metres_along(stretches: Stretches, fabric: Fabric) -> float:
    loops = sum(sum(item.drawn.values()) for rounds in stretches for item in rounds)
    return (loops * loop_length(fabric) + 2 * TAIL_CM * len(stretches)) / 100


def shortfalls(request: PlanRequest, needs: Sequence[YarnNeed]) -> tuple[str, ...]:
    """A sentence for each yarn that will not reach: which, and by how much."""
    tails = []
    for yarn, need in zip(request.yarns, needs, strict=True):
        if not need.enough:
            grams = need.grams_a_pair - yarn.grams
            name = f"Yarn {yarn.key}" + (f", {yarn.name}," if yarn.name else "")
            tails.append(
                f"{name} runs out: the pair takes {both_weights(need.grams_a_pair, 0)} with a tenth in hand, "
                f"{both_weights(yarn.grams)} are at hand; {both_weights(grams, 0)} are missing, "
                f"{both_yarn_lengths(grams * yarn.metres_per_100g / 100)}."
            )
    return tuple(tails)


def half_reaches(request: PlanRequest, rounds: Sequence[Round], fabric: Fabric) -> bool:
    """Whether half of the yarn at hand is enough for a sock of these rounds, the tenth in hand kept of each yarn."""
    both = a_pair(metres_by_yarn(request, rounds, fabric, request.yarns[0].key), swap=swaps(request))
    at_hand: dict[str, float] = {yarn.key: yarn.grams * yarn.metres_per_100g / 100 for yarn in request.yarns}
    return all(metres * IN_HAND <= at_hand[key] for key, metres in both.items())


def rounds_for_half(request: PlanRequest, leg: Sequence[Round], others: Sequence[Round], fabric: Fabric) -> int:
    """How many of the leg's rounds half of the yarn at hand reaches for, beside the other rounds of a sock.

    The yarn that runs out first decides. 0 where even the rest takes more than half.
    """

    def falls_short(count: int) -> bool:
        return not half_reaches(request, [*others, *leg[:count]], fabric)

    return max(0, bisect_left(range(len(leg) + 1), True, key=falls_short) - 1)
