"""What is left of a yarn in words: each number with its range, and the sum behind it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from ..planning.weighing import Amount
from ..planning.yarn_left import Ending, Where, YarnLeft


class Figure(NamedTuple):
    """A number with its name, its range, and the sentences that it opens to."""

    name: str
    value: str
    between: str
    sums: tuple[str, ...]


def figures(yarn: YarnLeft, sock: int) -> Iterator[Figure]:
    """The numbers of one yarn; `sock` is the one on the needles."""
    use = yarn.use
    rate = f"{use.per_thousand:.2f} g per 1,000"
    yield Figure("Left now", grams(yarn.now), between(yarn.now), (_left(yarn),))
    ahead = "{:,.0f} stitches of it are ahead {}, at {}: {:.1f} g."
    if yarn.sock_stitches:
        sums = (ahead.format(yarn.sock_stitches, "in this sock", rate, yarn.sock.grams),)
        yield Figure(f"The rest of sock {sock} takes", grams(yarn.sock), between(yarn.sock), sums)
    if yarn.pair_stitches:
        sums = (ahead.format(yarn.pair_stitches, "in both socks", rate, yarn.pair.grams),)
        yield Figure("The rest of the pair takes", grams(yarn.pair), between(yarn.pair), sums)
        yield _after(yarn)
    if yarn.pair_stitches and yarn.ends:
        yield _ending(yarn, yarn.ends, rate)
    yield Figure(
        "1,000 stitches take",
        f"{use.per_thousand:.2f} g",
        f"give or take {use.give_or_take:.2f} g",
        (
            *use.sums,
            use.why,
            f"With {yarn.metres_per_100g:g} m in 100 g that is {yarn.cm:.2f} cm of yarn a stitch. Cast-on, bind-off "
            "and yarn carried behind count as many stitches as have their length in them, slipped stitches none.",
        ),
    )


def _left(yarn: YarnLeft) -> str:
    use, ball = yarn.use, yarn.use.ball
    since = yarn.knitted - ball.newest
    then = use.left(ball.newest).grams
    begun = (
        f"At the newest weighing about {then:.1f} g were left" if ball.weighed else f"{then:g} g were there at first"
    )
    if abs(since) < 1:
        return f"{begun}, and nothing has been knitted of it since."
    taken = f"at {use.per_thousand:.2f} g per 1,000 they took {abs(then - yarn.now.grams):.1f} g"
    if since < 0:
        return f"{begun}; {-since:,.0f} stitches were ripped since, and {taken}."
    return f"{begun}; {since:,.0f} stitches were knitted since, and {taken}."


def _after(yarn: YarnLeft) -> Figure:
    """What is over or lacking; the sum is of the numbers as they stand there, so that it comes out."""
    after, now, pair = yarn.after, round(yarn.now.grams, 1), round(yarn.pair.grams, 1)
    if after.grams >= 0:
        sums = (f"{now:.1f} g less {pair:.1f} g are {now - pair:z.1f} g.",)
        return Figure("Left after the pair", grams(after), between(after), sums)
    short = Amount(grams=-after.grams, deviation=after.deviation)
    sums = (f"{pair:.1f} g less the {now:.1f} g that are left are {pair - now:z.1f} g.",)
    return Figure("Short for the pair", grams(short), between(short), sums)


def _ending(yarn: YarnLeft, ends: Ending, rate: str) -> Figure:
    """Where the yarn ends, and what it lacks in the worst case."""
    reaches = 1000 * yarn.now.grams / yarn.use.per_thousand
    early, late = where(ends.early), where(ends.late) if ends.late else "nowhere"
    sums = (
        f"{yarn.now.grams:.1f} g at {rate} are {reaches:,.0f} stitches, and {yarn.pair_stitches:,.0f} are ahead"
        f"{f': they end in {where(ends.about)}' if ends.about else ''}.",
        f"At the least {over(yarn.after.low)} after the pair, and it ends in {early}; at the most "
        f"{over(yarn.after.high)}, and it ends {'in ' if ends.late else ''}{late}.",
    )
    if ends.about:
        return Figure("It ends at about", where(ends.about), f"between {early} and {late}", sums)
    lacking = f"{math.ceil(-yarn.after.low)} g short there"
    return Figure("In the worst case it ends at", early, lacking, sums)


def over(grams: float) -> str:
    """What is left over or lacking: "3.1 g are left over"."""
    return f"{grams:.1f} g are left over" if grams >= 0 else f"{-grams:.1f} g are lacking"


def grams(amount: Amount) -> str:
    """So many grams, to the whole one as a kitchen scale has them."""
    return f"{max(0.0, amount.grams):.0f} g"


def between(amount: Amount) -> str:
    """The range of an amount, wider rather than narrower: "between 25 and 29 g"; there is never less than nothing."""
    low, high = (max(0, end) for end in (math.floor(amount.low), math.ceil(amount.high)))
    return f"between {low} and {high} g" if low < high else f"{low} g"


class Told(NamedTuple):
    """Whether a yarn reaches: a verdict as the style sheet knows it, the word for it, and the sentence."""

    verdict: str
    word: str
    why: str


def verdict(yarn: YarnLeft) -> Told:
    """Whether a yarn reaches for the pair, and where it ends if it does not."""
    if not yarn.pair_stitches:
        return Told("good", "Done.", "Nothing more is knitted with it.")
    if yarn.ends is None:
        return Told("good", "Enough.", f"At least {math.floor(yarn.after.low)} g should be left over.")
    early, late = where(yarn.ends.early), yarn.ends.late and where(yarn.ends.late)
    if yarn.ends.about is None:
        lacking = math.ceil(-yarn.after.low)
        return Told(
            "snug",
            "It may run out.",
            f"It should reach, but in the worst case it ends at {early}, {lacking} g short. "
            "Weigh again later, or have a little more of the same dye lot at hand.",
        )
    until = f"between {early} and {late}" if late and late != early else f"perhaps as early as {early}"
    if late == early:
        until = "as good as surely there"
    return Told(
        "will not go on",
        "It runs out." if late else "It most likely runs out.",
        f"It ends at about {where(yarn.ends.about)}, {until}. Get more of the same dye lot before you are there.",
    )


def where(place: Where) -> str:
    """A round of the pair: "sock 2, leg, round 15"."""
    return f"sock {place.sock}, {place.section.lower()}, round {place.in_section}"
