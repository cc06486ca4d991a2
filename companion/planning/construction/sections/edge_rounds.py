"""The rounds that some edges of a cuff take: a tubular one, and a hem, which is folded and lies double.

A hem is as many rounds high inside as outside, with a round between them along which it folds: a purled one, or one of
eyelets, which become small points. Cast on first, it is knitted together with the cast-on edge; from the toe up it
ends the sock and is sewn down. All of it is common practice, written down in many technique articles.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile

from ...fit.targets import nearest
from ...plan.document import Round
from ...plan.rounds import Ops, is_knit, op, repeat, row
from ...request.rib import rib_width
from ...units import counted
from .base import Aim

HEM_CM = 2.0
"""How high a hem is, less where the whole cuff is lower (ours; 1.5 to 2.5 cm are usual)."""

FOLDS = {
    "folded hem": "The purl stitches are the edge: the hem is folded inwards along them.",
    "picot hem": "The hem is folded inwards along these eyelets, which become small points.",
}
"""What is said of the round along which a hem folds, by the name of the edge."""


def adds_height(rounds: Sequence[Round]) -> Sequence[bool]:
    """Which rounds of a cuff make it higher: not the inside of a hem nor its fold, and one of two tubular rounds."""
    fold, inside = _folded(rounds)
    return [
        item.is_fabric and number != fold and number not in inside and not (item.uses("sl") and item.uses("p"))
        for number, item in enumerate(rounds)
    ]


def hem_rounds(rounds: Sequence[Round]) -> int:
    """How many rounds high the hem of a finished cuff is, on either side of its fold; 0 without one."""
    return len(_folded(rounds)[1])


def lies_open(rounds: Sequence[Round], done: int) -> bool:
    """Whether after so many rounds of a cuff the inside of its hem is there and not yet closed: it is no height yet."""
    fold, inside = _folded(rounds)
    if fold is None:
        return False
    return done > fold if inside.start > fold else done <= 2 * fold


def _folded(rounds: Sequence[Round]) -> tuple[int | None, range]:
    """Where a finished hem folds, and where its inside lies among the rounds of a cuff."""
    joined = next((number for number, item in enumerate(rounds) if item.uses("join")), None)
    if joined is not None:
        return joined // 2, range(1, joined // 2)
    if rounds and rounds[-1].uses("sew"):
        sewn = len(rounds) - 1
        fold = sewn - _knit_last(rounds[:-1]) - 1
        return fold, range(fold + 1, sewn)
    return None, range(0)


def _knit_last(rounds: Sequence[Round]) -> int:
    """How many of the last rounds are knit all round."""
    return sum(1 for _ in takewhile(lambda item: is_knit(item.ops), reversed(rounds)))


def first_rounds(aim: Aim, count: int, done: Sequence[Round]) -> tuple[Round, ...]:
    """The rounds of an edge between its cast-on and the ribbing; `done` are those knitted after the cast-on."""
    if aim.request.cuff.edge in FOLDS:
        return _hem_first(aim, count, done)
    return _tubular(aim, count, begins=True)


def last_rounds(aim: Aim, count: int, rounds: tuple[Round, ...], ribbing: Sequence[Round]) -> tuple[Round, ...]:
    """The rounds of a cuff from the toe up except the last, these done; `ribbing` is a whole cuff without an edge."""
    if aim.request.cuff.edge in FOLDS:
        return _hem_last(aim, count, rounds, ribbing)
    edge = _tubular(aim, count, begins=False)
    begun = next((number for number, item in enumerate(rounds) if edge and item.work == edge[0].work), None)
    if begun is None:
        rounds += tuple(ribbing[sum(adds_height((*rounds, *edge))) :])
        begun = len(rounds)
    return rounds + edge[len(rounds) - begun :]


def _hem_first(aim: Aim, count: int, done: Sequence[Round]) -> tuple[Round, ...]:
    plain, fold = row(("leg", op("k", count)), before=count), _fold(aim, count)
    begun = next((number for number, item in enumerate(done) if item.work == fold.work), None)
    # The round that joins it adds one.
    high = max(_hem_rounds(aim, less=1), _leading_knit(done)) if begun is None else begun
    inside = replace(plain, note=_inside(high))
    join = row(
        ("leg", op("join", count)),
        before=count,
        note="Fold the hem, its wrong sides together, and knit each stitch together with the loop of the cast-on edge "
        "that lies behind it, in line, or the hem twists. Then try it over the heel: it stretches less than ribbing.",
    )
    return (inside, *(plain,) * (high - 1), fold, *(plain,) * high, join)


def _leading_knit(done: Sequence[Round]) -> int:
    return sum(1 for _ in takewhile(lambda item: is_knit(item.ops), done))


def _hem_last(aim: Aim, count: int, rounds: tuple[Round, ...], ribbing: Sequence[Round]) -> tuple[Round, ...]:
    plain, fold = row(("leg", op("k", count)), before=count), _fold(aim, count)
    at = next((number for number, item in enumerate(rounds) if item.work == fold.work), None)
    if at is None:
        ribbed = any(item.work == ribbing[0].work for item in rounds)
        # A round that changes the count is part of a cuff, and of one that is all hem it takes a round.
        high = _hem_rounds(aim, less=0 if ribbed else len(rounds) - _knit_last(rounds))
        left = () if ribbed and _knit_last(rounds) else ribbing[sum(adds_height(rounds)) + high :]
        rounds += tuple(left)
        begun = 0 if left else _knit_last(rounds)
        outside = (replace(plain, note="The hem begins: knit all round."), *(plain,) * (high - 1))
        rounds += (*outside[begun:], fold)
        at = len(rounds) - 1
    high = _knit_last(rounds[:at])
    inside = replace(plain, note=_inside(high))
    return rounds + (inside, *(plain,) * (high - 1))[len(rounds) - at - 1 :]


def _inside(high: int) -> str:
    return f"The inside of the hem: {counted(high, 'round')}. A needle one size thinner lets it lie smooth."


def _hem_rounds(aim: Aim, less: int = 0) -> int:
    """How many rounds high a hem is on its outside, so many less than a cuff that is no higher."""
    whole = nearest(aim.request.cuff.length_cm * aim.fabric.rounds) - less
    return max(1, min(nearest(HEM_CM * aim.fabric.rounds), whole))


def _fold(aim: Aim, count: int) -> Round:
    note = FOLDS[aim.request.cuff.edge]
    if aim.request.cuff.edge == "folded hem":
        return row(("leg", op("p", count)), before=count, note=note)
    return row(("leg", repeat(count // 2, op("yo"), op("k2tog")) + op("k", count % 2)), before=count, note=note)


def _tubular(aim: Aim, count: int, *, begins: bool) -> tuple[Round, ...]:
    """The rounds of a tubular edge over so many stitches, none for another edge; `begins` where it is the cast-on.

    Knit and purl stitches are worked by turns while the others are slipped, so that two rounds make one row on either
    face. A ribbing of two and two exchanges the middle ones of every four on the way from or to single ones.
    """
    if aim.request.cuff.edge != "tubular":
        return ()
    knits = _round(count, 2, op("k"), op("slwyif"))
    purls = _round(count, 2, op("sl"), op("p"))
    if rib_width(aim.request.cuff.rib) == 2:
        return knits, purls
    if begins:
        return knits, purls, _round(count, 4, op("k"), op("1/1 RPC"), op("p"))
    return _round(count, 4, op("k"), op("1/1 LPC"), op("p")), knits, purls


def _round(count: int, width: int, *ops: Ops) -> Round:
    return row(("leg", repeat(count // width, *ops)), before=count)
