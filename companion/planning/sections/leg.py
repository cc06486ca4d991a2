"""The leg between cuff and heel: straight, or narrowed along the centre back towards the ankle."""

from __future__ import annotations

from dataclasses import replace
from itertools import accumulate, takewhile

from ..counts import heel_stitches
from ..document import Round
from ..units import both_units
from ..work import evenly_changed, fabric_rounds, op, row
from .base import Aim, Built, Knitted, Part, Progress
from .chart_end import to_the_end_of_the_chart

HALF_THE_YARN = (
    "The leg goes on as long as half of the yarn lasts, with enough of it kept for the cuff. "
    "Weigh the yarn on the way: that tells when to begin the cuff better than the gauge does."
)
"""What to do beside a leg whose length is only reckoned (common practice)."""


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Rounds up to the length of the leg, after one evenly spread change where it begins with another count.

    A shaped leg is narrowed from the cuff down, and widened from the toe up.
    """
    rounds = knitted.rounds
    count = before.after(rounds).live
    toe_up = aim.request.construction.direction == "toe-up"
    begin, end = (aim.counts.leg, aim.counts.top) if toe_up else (aim.counts.top, aim.counts.leg)
    shaped = begin != end
    progress = before
    if not knitted.closed:
        if count != begin and not (shaped and rounds):
            rounds += to_the_end_of_the_chart(aim, rounds, aim.leg_rounds - fabric_rounds(rounds))
            rounds += (_changed(aim, count, begin),)
            count = begin
        left = max(0, aim.leg_rounds - fabric_rounds(rounds))
        since = 1 + sum(1 for _ in takewhile(lambda item: item.before == item.after, reversed(rounds)))
        # A plain round lies between the last pair and what comes then.
        rest = _shaping(count, end, aim.counts.leg, max(left, shaped and since == 1), since)
        if shaped and count == begin:
            rest = _told(rest, end)
        rounds += rest
        if len(rest) > left and shaped:
            longer = both_units(aim.fabric.height(len(rest) - left))
            progress = before.warn(
                f"The leg becomes {longer} longer than asked: that is what narrowing it between {begin} and {end} "
                "stitches takes. Measure both ends of the leg again, or plan it longer."
            )
    if rounds and not knitted.rounds and aim.request.leg.until == "half the yarn":
        told = f"{rounds[0].note or ''} {HALF_THE_YARN}".lstrip()
        rounds = (replace(rounds[0], note=told), *rounds[1:])
    above_the_heel = rounds[0].after if toe_up and shaped else rounds[-1].after
    return rounds, progress.after(rounds, leg=above_the_heel)


def _changed(aim: Aim, count: int, to: int) -> Round:
    chart = aim.request.leg.chart
    why = f"for a leg {both_units(aim.fabric.width(to))} round"
    if chart and chart.width > 1 and to % chart.width == 0:
        why = f"for {to // chart.width} repeats of the chart"
    return evenly_changed(("leg", count, to), why=why)


LEAST_BACK = 8
"""Stitches at the back for a pair of decreases to lie in, with two between them."""


def _apart(pairs: int, rounds: int, *, widens: bool) -> list[int]:
    """How many rounds each pair of changes comes after the one before, and the end after the last.

    They come every so many rounds and then every one more or fewer, which is easier to remember than the evenest
    mixture, and they are closest above the ankle, where a leg tapers most.
    """
    every, over = divmod(rounds, pairs + 1)
    close, wide = [every] * (pairs + 1 - over), [every + 1] * over
    return close + wide if widens else wide + close


def _shaping(count: int, to: int, above_the_heel: int, left: int, since: int) -> tuple[Round, ...]:
    """Plain rounds, with pairs of changes at the centre back spread over those that are left; never two in a row.

    `since` counts the rounds from the last pair on, it included, or from the one before the leg. The back of the leg
    is the heel's part of the stitches above the heel, and all that is more.
    """
    front = above_the_heel - heel_stitches(above_the_heel)
    pairs = abs(to - count) // 2
    if pairs:
        left = max(left, 2 * pairs + (since == 1))
    apart = _apart(pairs, since + left, widens=to > count)
    if apart[0] < since:
        since = max(2, left // (pairs + 1))
        apart = _apart(pairs, since + left, widens=to > count)
    shapes = set(accumulate(apart[:-1]))
    made = []
    for number in range(since, since + left):
        if number not in shapes:
            made.append(row(("leg", op("k", count)), before=count))
            continue
        made.append(_pair(count, max(LEAST_BACK, count - front), widens=to > count))
        count = made[-1].after
    return tuple(made)


def _told(rounds: tuple[Round, ...], to: int) -> tuple[Round, ...]:
    """The rounds with a note where their shaping begins."""
    number, first = next((number, item) for number, item in enumerate(rounds) if item.before != item.after)
    what = f"along its back, from {first.before} stitches to {to}"
    note = f"From here the leg is narrowed {what}, towards the ankle."
    if to > first.before:
        note = f"From here the leg is widened {what}, as it grows wider than the ankle."
    return (*rounds[:number], replace(first, note=note), *rounds[number + 1 :])


def _pair(count: int, back: int, *, widens: bool) -> Round:
    """Two changes at the centre back, with two stitches between them."""
    if widens:
        beside = back // 2 - 1
        ops = op("k", beside) + op("m1r") + op("k", 2) + op("m1l") + op("k", count - beside - 2)
    else:
        beside = back // 2 - 3
        ops = op("k", beside) + op("ssk") + op("k", 2) + op("k2tog") + op("k", count - beside - 6)
    return row(("leg", ops), before=count, kind="increase" if widens else "decrease")


LEG = Part("leg", "Leg", flat=False, build=build, tube="leg")
