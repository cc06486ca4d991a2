"""The leg between cuff and heel: straight, or narrowed along the centre back towards the ankle."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate, takewhile

from ...fabric.beside_repeats import over_in_words
from ...fit.feet import STRAIGHT_CM
from ...fit.halves import heel_stitches
from ...fit.targets import nearest
from ...plan.document import Round
from ...plan.rounds import evenly_changed, fabric_rounds, op, row
from ...request.plan_request import PlanRequest
from ...units import both_units, counted
from .base import Aim, Built, Knitted, Part, Progress
from .count_changes import PLAIN_BETWEEN, in_steps, pattern_row, until_finished

HALF_THE_YARN = (
    "The leg goes on as long as half of the yarn lasts, with enough of it kept for the cuff. "
    "Weigh the yarn on the way: that tells when to begin the cuff better than the gauge does."
)
"""What to do beside a leg whose length is only estimated (common practice)."""


def build(aim: Aim, before: Progress, knitted: Knitted) -> Built:
    """Rounds up to the length of the leg, after an evenly spread change where it begins with another count.

    A shaped leg is narrowed from the cuff down, and widened from the toe up.
    """
    rounds, progress = knitted.rounds, before
    if not knitted.closed:
        rounds = _carried_on(aim, before, rounds)
        progress = _with_warnings(aim, before, rounds, len(knitted.rounds))
    if rounds and not knitted.rounds:
        until = HALF_THE_YARN if aim.request.leg.until == "half the yarn" else ""
        note = " ".join(filter(None, (rounds[0].note, before.to_mind, until)))
        rounds = (replace(rounds[0], note=note or None), *rounds[1:])
    toe_up = aim.request.construction.direction == "toe-up"
    widened = (item.before for item in rounds if is_a_pair(item)) if toe_up else ()
    return rounds, progress.after(rounds, leg=next(iter(widened), rounds[-1].after))


def _with_warnings(aim: Aim, before: Progress, rounds: tuple[Round, ...], done: int) -> Progress:
    """The progress before a leg of these rounds, with what becomes of it otherwise than asked."""
    counts, fit = aim.counts, aim.fit.leg
    missing = fabric_rounds(rounds) - max(aim.leg_rounds, done)
    if missing > 0 and counts.top != counts.leg:
        return before.warn(
            f"The leg becomes {both_units(fit.height(missing))} longer than asked: that is what narrowing it between "
            f"{counts.top} and {counts.leg} stitches takes. Measure both ends of the leg again, or plan it longer."
        )
    kept = rounds[-1].after
    if counts.top == counts.leg != kept:
        return before.warn(
            f"What is left of the leg is too short to finish the rows of the {aim.request.leg.called} before its "
            f"stitches change: it stays on {kept}, {both_units(fit.width(kept))} round, where {counts.leg} were wanted."
        )
    return before


def _carried_on(aim: Aim, before: Progress, rounds: tuple[Round, ...]) -> tuple[Round, ...]:
    """The rest of the whole leg where it was begun so, else the rest calculated again.

    Beyond a cuff the leg gets its own count in one round; from the toe up, where it may be far narrower than the foot,
    a few stitches at a time.
    """
    begin, end = _ends(aim)
    toe_up = aim.request.construction.direction == "toe-up"
    whole = _changed(aim, before, (), tuple(in_steps(before.live, begin)) if toe_up else (begin,))
    whole += _tapered(aim, before, whole)
    if [(item.before, item.after) for item in whole[: len(rounds)]] == [(item.before, item.after) for item in rounds]:
        return rounds + whole[len(rounds) :]
    if begin == end:
        rounds = _changed(aim, before, rounds, (begin,))
    return rounds + _tapered(aim, before, rounds)


def _ends(aim: Aim) -> tuple[int, int]:
    """The stitches that the leg begins and ends with."""
    toe_up = aim.request.construction.direction == "toe-up"
    return (aim.counts.leg, aim.counts.top) if toe_up else (aim.counts.top, aim.counts.leg)


def _changed(aim: Aim, before: Progress, done: tuple[Round, ...], steps: Sequence[int]) -> tuple[Round, ...]:
    """The rounds of the leg that are `done`, and those that bring it to each of these counts.

    A pattern that was begun is finished before each of them; without room for that the leg stays on what it has.
    """
    rounds, count = done, done[-1].after if done else before.live
    row_worked = pattern_row(rounds, before.pattern_row)
    for number, to in enumerate(steps if steps[-1:] != (count,) else ()):
        room = aim.leg_rounds - fabric_rounds(rounds)
        wait = until_finished(row_worked, aim.request.leg.rows_together, room, PLAIN_BETWEEN if number else 0)
        if wait is None:
            return _changed(aim, before, done, steps[:number])
        rounds += (_plain(count),) * wait
        rounds += (evenly_changed(("leg", count, to), why=_why(aim, steps[-1])),)
        row_worked += wait if row_worked else 0
        count = to
    return rounds


def _why(aim: Aim, to: int) -> str:
    leg = aim.request.leg
    straight = aim.counts.top == aim.counts.leg
    over = over_in_words(leg.stitch_pattern, to) if straight and leg.stitch_pattern else ""
    if leg.repeat > 1 and to >= leg.repeat and (over or to % leg.repeat == 0):
        behind = f" and {over} at the centre back" if over else ""
        return f"for {counted(to // leg.repeat, 'repeat')} of the {leg.called}{behind}"
    return f"for a leg {both_units(aim.fit.leg.width(to))} round"


def _tapered(aim: Aim, before: Progress, done: tuple[Round, ...]) -> tuple[Round, ...]:
    """The rounds that are left of the leg after those `done`, with its shaping.

    It is straight above the ankle, and straight under the cuff down to the widest place, as far as there is room.
    """
    left = max(0, aim.leg_rounds - fabric_rounds(done))
    count = done[-1].after if done else before.live
    plain = _plain(count)
    begin, end = _ends(aim)
    to = count + 2 * int((end - count) / 2)  # a single stitch is no pair to shape with
    if begin == end or to == count:
        return (plain,) * left
    toe_up = aim.request.construction.direction == "toe-up"
    ankle = nearest(STRAIGHT_CM * aim.fit.leg.rounds)
    below_the_cuff = max(0, aim.leg_rounds - nearest(aim.fit.body.length * aim.fit.leg.rounds))
    first, last = (ankle, below_the_cuff) if toe_up else (below_the_cuff, ankle)
    taper = LEAST_APART * (abs(to - count) // 2) + 1
    first = 0 if any(map(is_a_pair, done)) else max(0, min(first - fabric_rounds(done), left - last - taper))
    last = max(0, min(last, left - first - taper))
    since = 1 if first else 1 + sum(1 for _ in takewhile(lambda item: item.before == item.after, reversed(done)))
    # A plain round lies between the last pair and what comes then.
    shaping = _shaping(count, to, aim.counts.leg, max(left - first - last, since == 1), since)
    if not any(map(is_a_pair, done)):
        shaping = _with_a_note(shaping, to, _where(aim.request))
    return (plain,) * first + shaping + (row(("leg", op("k", to)), before=to),) * last


LEAST_APART = 2
"""Rounds from one pair of changes to the next at least: a plain round lies between them."""

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
        left = max(left, LEAST_APART * pairs + (since == 1))
    apart = _apart(pairs, since + left, widens=to > count)
    if apart[0] < since:
        since = max(2, left // (pairs + 1))
        apart = _apart(pairs, since + left, widens=to > count)
    shapes = set(accumulate(apart[:-1]))
    plain, made = _plain(count), []
    for number in range(since, since + left):
        if number not in shapes:
            made.append(plain)
            continue
        made.append(_pair(count, max(LEAST_BACK, count - front), widens=to > count))
        count = made[-1].after
        plain = _plain(count)
    return tuple(made)


def _plain(count: int) -> Round:
    return row(("leg", op("k", count)), before=count)


def _where(request: PlanRequest) -> str:
    """Where a leg is shaped, in words; the pattern laid over the rounds moves the shaping away from a panel."""
    pattern = request.leg.stitch_pattern
    both = pattern and pattern.placement and pattern.placement.on == "front and back"
    return "at both sides, between its panels" if both else "along its back"


def _with_a_note(rounds: tuple[Round, ...], to: int, where: str) -> tuple[Round, ...]:
    """The rounds with a note where their shaping begins."""
    number, first = next((number, item) for number, item in enumerate(rounds) if item.before != item.after)
    what = f"{where}, from {first.before} stitches to {to}"
    note = f"From here the leg is narrowed {what}, towards the ankle."
    if to > first.before:
        note = f"From here the leg is widened {what}, as it grows wider than the ankle."
    return (*rounds[:number], replace(first, note=note), *rounds[number + 1 :])


def is_a_pair(item: Round) -> bool:
    """Whether a round of a leg shapes it with a pair of changes: an even change of the count has none of these."""
    return item.before != item.after and item.uses("m1r", "ssk", "m1p", "ssp") > 0


def _pair(count: int, back: int, *, widens: bool) -> Round:
    """Two changes at the centre back, with two stitches between them."""
    if widens:
        beside = back // 2 - 1
        ops = op("k", beside) + op("m1r") + op("k", 2) + op("m1l") + op("k", count - beside - 2)
    else:
        beside = back // 2 - 3
        ops = op("k", beside) + op("ssk") + op("k", 2) + op("k2tog") + op("k", count - beside - 6)
    return row(("leg", ops), before=count, kind="increase" if widens else "decrease")


def length_asked(request: PlanRequest) -> float | None:
    """The length of the leg that is asked for, in cm; None where the yarn decides."""
    return request.leg.length_cm if request.leg.until == "length" else None


LEG = Part("leg", "Leg", "leg", build, asked=length_asked, charted=True, countable=True, tube="leg")
