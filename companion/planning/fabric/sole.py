"""The fabric of a sole, laid over the plain rounds of the foot beside a plain instep.

A slipped sole is padded as a heel flap is, and garter stitch is thick too; with its purl side out a sole is smooth
against the foot; ribbing under the arch draws the foot together there (all common practice).
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from ..plan.document import Round
from ..plan.rounds import Ops, is_knit, op, repeat, takes
from ..request.construction import SoleFabric

Rounds = tuple[Round, ...]

ARCH = (0.35, 0.65)
"""Where the arch lies along a foot, from the back of the heel, as parts of its length (ours)."""

RIB = 2
"""Knit and purl stitches in turn of the ribbing under the arch: as many of each."""

BEGINS = {
    "slipped": "The sole is padded: in every second round each second stitch of it is slipped.",
    "garter": "The sole is in garter stitch: every second round is purled there.",
    "purl": "The sole is purled, so that its smooth side lies against the foot.",
    "ribbed arch": "Under the arch the sole is ribbed.",
}
"""What is said in the first round of the fabric."""


class AlongTheFoot(NamedTuple):
    """How a section lies along the foot: rounds before its first, from heel or toe, and all rounds of the foot."""

    before: int
    in_all: int
    from_the_toe: bool

    def is_arch(self, number: int) -> bool:
        """Whether a round of the section, counted from 0, lies under the arch."""
        share = (self.before + number + 0.5) / self.in_all
        return ARCH[0] <= (1 - share if self.from_the_toe else share) < ARCH[1]


def with_sole(rounds: Rounds, done: int, fabric: SoleFabric, along: AlongTheFoot) -> Rounds:
    """The rounds of a foot with the fabric over the soles of those after the first `done`.

    A round that changes the sole's count stays plain there.
    """
    if fabric == "plain":
        return rounds
    laid = list(rounds[:done])
    said = any(_sole_of(item) and not is_knit(_sole_of(item)) for item in laid)
    known: dict[int, Round] = {}
    for number, item in enumerate(rounds[done:], start=done):
        new = item
        if _has(fabric, along, number):
            new = known[id(item)] = known.get(id(item)) or _laid(item, fabric)
        if new.work != item.work and not said:
            said = True
            new = replace(new, note=" ".join(filter(None, [new.note, BEGINS[fabric]])))
        laid.append(new)
    return tuple(laid)


def _has(fabric: SoleFabric, along: AlongTheFoot, number: int) -> bool:
    if fabric == "ribbed arch":
        return along.is_arch(number)
    return fabric == "purl" or number % 2 == 0


def _sole_of(item: Round) -> Ops:
    return next((part.ops for part in item.work if part.zone == "sole"), ())


def _laid(item: Round, fabric: SoleFabric) -> Round:
    if item.side != "round" or not is_knit(_sole_of(item)):
        return item
    sole = _ops(fabric, takes(_sole_of(item)))
    return replace(item, work=tuple(replace(part, ops=sole) if part.zone == "sole" else part for part in item.work))


@lru_cache(maxsize=512)
def _ops(fabric: SoleFabric, stitches: int) -> Ops:
    """So many stitches of a sole. Where it cannot end alike at both sides it has a knit stitch more at its first."""
    if fabric == "slipped":
        return op("k", stitches % 2) + repeat(stitches // 2, op("sl"), op("k"))
    if fabric == "ribbed arch":
        over = (stitches - RIB) % (2 * RIB)
        before = over - over // 2
        ribs = repeat((stitches - RIB) // (2 * RIB), op("k", RIB), op("p", RIB)) + op("k", RIB)
        return op("k", before) + ribs + op("k", over - before)
    return op("p", stitches)
