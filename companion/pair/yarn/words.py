"""What is left of a yarn in words: each number with its range, and the sum behind it. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from ...planning.units import both_units, both_weights, both_yardages
from ...planning.yarn.forecast import RoundOfPair, YarnEnd, YarnLeft
from ...planning.yarn.weighing import Amount


class Figure(NamedTuple):
    """A number with its name, its range, and the sentences that it opens to."""

    name: str
    value: str
    between: str
    sums: tuple[str, ...]


def figures(yarn: YarnLeft, sock: int) -> Iterator[Figure]:
    """The numbers of one yarn; `sock` is the one on the needles."""
    use = yarn.use
    yield Figure("Left now", grams(yarn.now), between(yarn.now), (_left(yarn),))
    ahead = "{:,.0f} stitches of it are ahead {}, at {}: {}."
    if yarn.sock_stitches:
        sums = (ahead.format(yarn.sock_stitches, "in this sock", rate(yarn), both_weights(yarn.sock.grams, 1)),)
        yield Figure(f"The rest of sock {sock} takes", grams(yarn.sock), between(yarn.sock), sums)
    if yarn.pair_stitches:
        sums = (ahead.format(yarn.pair_stitches, "in both socks", rate(yarn), both_weights(yarn.pair.grams, 1)),)
        yield Figure("The rest of the pair takes", grams(yarn.pair), between(yarn.pair), sums)
        yield _after(yarn)
    if yarn.pair_stitches and yarn.ends:
        yield _ending(yarn, yarn.ends)
    yield Figure(
        "1,000 stitches take",
        both_weights(use.per_thousand, 2),
        f"give or take {both_weights(use.give_or_take, 2)}",
        (
            *use.sums,
            use.why,
            f"With {both_yardages(yarn.metres_per_100g)} that is {both_units(yarn.cm)} of yarn a stitch. Cast-on, "
            "bind-off and yarn carried behind count as many stitches as have their length in them, slipped stitches "
            "none.",
        ),
    )


def _left(yarn: YarnLeft) -> str:
    use, ball = yarn.use, yarn.use.ball
    since = yarn.knitted - ball.newest
    then = use.left(ball.newest).grams
    begun = (
        f"At the newest weighing about {both_weights(then, 1)} were left"
        if ball.weighed
        else f"{both_weights(then)} were there at first"
    )
    if abs(since) < 1:
        return f"{begun}, and nothing has been knitted of it since."
    taken = f"at {rate(yarn)} they took {both_weights(abs(then - yarn.now.grams), 1)}"
    if since < 0:
        return f"{begun}; {-since:,.0f} stitches were ripped since, and {taken}."
    return f"{begun}; {since:,.0f} stitches were knitted since, and {taken}."


def _after(yarn: YarnLeft) -> Figure:
    """What is over or missing; the sum is of the numbers as they stand there, so that it comes out."""
    after, now, pair = yarn.after, round(yarn.now.grams, 1), round(yarn.pair.grams, 1)
    if after.grams >= 0:
        sums = (f"{both_weights(now, 1)} less {both_weights(pair, 1)} are {both_weights(now - pair, 1)}.",)
        return Figure("Left after the pair", grams(after), between(after), sums)
    short = Amount(grams=-after.grams, deviation=after.deviation)
    sums = (
        f"{both_weights(pair, 1)} less the {both_weights(now, 1)} that are left are {both_weights(pair - now, 1)}.",
    )
    return Figure("Short for the pair", grams(short), between(short), sums)


def _ending(yarn: YarnLeft, ends: YarnEnd) -> Figure:
    """Where the yarn ends, and what it lacks in the worst case."""
    reaches = 1000 * yarn.now.grams / yarn.use.per_thousand
    early = where(ends.early)
    sums = (
        f"{both_weights(yarn.now.grams, 1)} at {rate(yarn)} are {reaches:,.0f} stitches, and "
        f"{yarn.pair_stitches:,.0f} are ahead{f': they end in {where(ends.about)}' if ends.about else ''}.",
        f"At the least {over(yarn.after.low)} after the pair, and it ends in {early}; at the most "
        f"{over(yarn.after.high)}, and it {f'ends in {where(ends.late)}' if ends.late else 'lasts'}.",
    )
    if ends.about:
        span = f"between {early} and {where(ends.late)}" if ends.late else f"at the earliest {early}, or not at all"
        return Figure("It ends at about", where(ends.about), span, sums)
    lacking = f"{both_weights(math.ceil(-yarn.after.low))} short there"
    return Figure("In the worst case it ends at", early, lacking, sums)


def rate(yarn: YarnLeft) -> str:
    """What a thousand stitches take: "4.85 g (0.1711 oz) per 1,000"."""
    return f"{both_weights(yarn.use.per_thousand, 2)} per 1,000"


def over(grams: float) -> str:
    """What is left over or missing: "3.1 g (0.109 oz) are left over"."""
    return f"{both_weights(abs(grams), 1)} are {'left over' if grams >= 0 else 'missing'}"


def grams(amount: Amount) -> str:
    """So many grams, to the whole one as a kitchen scale has them."""
    return both_weights(max(0.0, amount.grams), 0)


def between(amount: Amount) -> str:
    """The range of an amount, wider rather than narrower: "between 25 g and 29 g"; there is never less than nothing."""
    low, high = (max(0, end) for end in (math.floor(amount.low), math.ceil(amount.high)))
    return f"between {both_weights(low)} and {both_weights(high)}" if low < high else both_weights(low)


class YarnVerdict(NamedTuple):
    """Whether a yarn reaches: a verdict as the style sheet knows it, the word for it, and the sentence."""

    verdict: str
    word: str
    why: str


def verdict(yarn: YarnLeft) -> YarnVerdict:
    """Whether a yarn reaches for the pair, and where it ends if it does not."""
    if not yarn.pair_stitches:
        return YarnVerdict("good", "Done.", "Nothing more is knitted with it.")
    if yarn.ends is None:
        return YarnVerdict(
            "good", "Enough.", f"At least {both_weights(math.floor(yarn.after.low))} should be left over."
        )
    early, late = where(yarn.ends.early), yarn.ends.late and where(yarn.ends.late)
    if yarn.ends.about is None:
        lacking = both_weights(math.ceil(-yarn.after.low))
        return YarnVerdict(
            "snug",
            "It may run out.",
            f"It should reach, but in the worst case it ends at {early}, {lacking} short. "
            "Weigh again later, or have a little more of the same dye lot at hand.",
        )
    until = f"between {early} and {late}" if late and late != early else f"perhaps as early as {early}"
    if late == early:
        until = "as good as surely there"
    return YarnVerdict(
        "will not go on",
        "It runs out." if late else "It most likely runs out.",
        f"It ends at about {where(yarn.ends.about)}, {until}. Get more of the same dye lot before you are there.",
    )


def where(place: RoundOfPair) -> str:
    """A round of the pair: "sock 2, leg, round 15"."""
    return f"sock {place.sock}, {place.section.lower()}, round {place.in_section}"
