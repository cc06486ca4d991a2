"""The fabric of a sole, laid over the plain rounds of the foot beside a plain instep.

A slipped sole is padded as a heel flap is, and garter stitch is thick too; with its purl side out a sole is smooth
against the foot; ribbing under the arch draws the foot together there (all common practice).
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from ..plan.document import Op, Round
from ..plan.rounds import Ops, is_knit, one_by_one, op, repeat
from ..request.construction import SoleFabric

Rounds = tuple[Round, ...]

ARCH = (0.35, 0.65)
"""Where the arch lies along a foot, from the back of the heel, as parts of its length (ours)."""

RIB = 2
"""Knit and purl stitches in turn of the ribbing under the arch: as many of each."""

BEGINS: dict[SoleFabric, str] = {
    "slipped": "The sole is padded: in every second round each second stitch of it is slipped.",
    "offset slipped": "The sole is padded: in every second round each second stitch is slipped, each time the other.",
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


SLIPPED: frozenset[SoleFabric] = frozenset({"slipped", "offset slipped"})


def with_sole(rounds: Rounds, done: int, fabric: SoleFabric, along: AlongTheFoot, before: Rounds = ()) -> Rounds:
    """The rounds of a foot with the fabric over the soles of those after the first `done`.

    A round that changes the sole's count stays plain there. The fabric goes on from those `before` them, if it began
    there.
    """
    if fabric == "plain":
        return rounds
    layer = _Layer(fabric, (*before, *rounds[:done]))
    one_on = bool(before) and _is_laid(before[-1])
    laid = list(rounds[:done])
    for number, item in enumerate(rounds[done:], start=done):
        here = along.is_arch(number) if fabric == "ribbed arch" else fabric == "purl" or (number + one_on) % 2 == 0
        laid.append(layer.lay(item) if here and is_knit(_sole_of(item)) else item)
    return tuple(laid)


def with_sole_in_gusset(rounds: Rounds, done: int, fabric: SoleFabric, sole: int, before: Rounds) -> Rounds:
    """The rounds of a gusset with the fabric over the `sole` stitches in the middle that the foot has.

    A fabric that is worked every second round is worked in plain ones, so that none of it meets the shaping. It goes
    on from the rounds `before` them.
    """
    if fabric in {"plain", "ribbed arch"}:
        return rounds
    layer = _Layer(fabric, (*before, *rounds[:done]))
    laid = [*before[-1:], *rounds[:done]]
    for item in rounds[done:]:
        every_second = item.before == item.after and not (laid and _is_laid(laid[-1]))
        here = every_second or (fabric == "purl" and item.kind != "pick-up")
        laid.append(layer.lay(item, sole) if here else item)
    return tuple(laid[len(before[-1:]) :])


class _Layer:
    """Lays a fabric over soles, one after the other, from where it is after the rounds `before` them."""

    def __init__(self, fabric: SoleFabric, before: Rounds) -> None:
        self._fabric = fabric
        worked = [item for item in before if _is_laid(item)]
        self._said = bool(worked)
        self._offset = bool(worked) and not _is_offset(worked[-1])
        self._known: dict[tuple[int, bool], Round] = {}

    def lay(self, item: Round, middle: int | None = None) -> Round:
        """A round with the fabric over its sole, or over so many stitches in the middle of it."""
        if item.side != "round" or not _sole_of(item):
            return item
        key = (id(item), self._offset)
        new = self._known[key] = self._known.get(key) or self._laid(item, middle)
        if new.work == item.work:
            return item
        self._offset = not self._offset
        if self._said:
            return new
        self._said = True
        return replace(new, note=" ".join(filter(None, [new.note, BEGINS[self._fabric]])))

    def _laid(self, item: Round, middle: int | None) -> Round:
        ops = _sole_of(item)
        plain = [(one.n, at) for at, one in enumerate(ops) if isinstance(one, Op) and one.op == "k"]
        if not plain:
            return item
        wide, at = max(plain)
        inside = wide if middle is None else min(middle, wide)
        beside = (wide - inside) // 2
        laid = (
            *ops[:at],
            *op("k", beside),
            *_ops(self._fabric, inside, offset=self._offset),
            *op("k", wide - inside - beside),
            *ops[at + 1 :],
        )
        return replace(item, work=tuple(replace(part, ops=laid) if part.zone == "sole" else part for part in item.work))


def _sole_of(item: Round) -> Ops:
    return next((part.ops for part in item.work if part.zone == "sole"), ())


def _is_laid(item: Round) -> bool:
    """Whether the sole of a round has a fabric of its own."""
    return item.side == "round" and any(one.op in {"sl", "p"} for one in one_by_one(_sole_of(item)))


def _is_offset(item: Round) -> bool:
    """Whether a slipped sole of a round slips the second stitch of each pair, and so ends nearer to its last stitch."""
    slipped = [one.op == "sl" for one in one_by_one(_sole_of(item))]
    return any(slipped) and slipped.index(True) > slipped[::-1].index(True)


@lru_cache(maxsize=512)
def _ops(fabric: SoleFabric, stitches: int, *, offset: bool = False) -> Ops:
    """So many stitches of a sole. Where it cannot end alike at both sides it has a knit stitch more at its first."""
    if fabric in SLIPPED:
        pair = (op("k"), op("sl")) if offset and fabric == "offset slipped" else (op("sl"), op("k"))
        return op("k", stitches % 2) + repeat(stitches // 2, *pair)
    if fabric == "ribbed arch":
        over = (stitches - RIB) % (2 * RIB)
        before = over - over // 2
        ribs = repeat((stitches - RIB) // (2 * RIB), op("k", RIB), op("p", RIB)) + op("k", RIB)
        return op("k", before) + ribs + op("k", over - before)
    return op("p", stitches)
