"""Cuff, heel or toe in a yarn of its own, laid over rounds that are already shaped."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from ..plan.document import Op, PartOfSock, Repeat, Round
from ..plan.rounds import Ops, map_unique
from ..request.entries import YarnKey
from ..stitches.operations import OPERATIONS

Rounds = tuple[Round, ...]


@dataclass(frozen=True)
class OwnYarn:
    """The yarn with this key, in which a part of the sock is worked: all of it, or only its rows and not its rounds.

    The part lies `between` others where the main yarn goes on behind it.
    """

    key: YarnKey
    part: PartOfSock
    rows_only: bool
    between: bool

    def lay(self, rounds: Rounds, done: Rounds, passes: int) -> Rounds:
        """A section's rounds in this yarn, behind the `done` ones, which stay as they are.

        The first row works so many stitches in the yarn at hand before the part itself begins.
        """
        painted = tuple(map_unique(rounds, lambda item: _in_yarn(item, self.key, 0) if self._has(item) else item))
        if passes and rounds:
            painted = (_in_yarn(rounds[0], self.key, passes), *painted[1:])
        return done + painted[len(done) :]

    def taken_off(self, rounds: Rounds) -> Rounds:
        """The rounds as their builder made them, for which yarns make no difference."""
        return tuple(map_unique(rounds, lambda item: _in_yarn(item, None, 0) if self._has(item) else item))

    def _has(self, item: Round) -> bool:
        return item.side != "round" or not self.rows_only


def in_yarn(item: Round, key: YarnKey | None) -> Round:
    """A whole round with its loops drawn in a yarn; None is the main one, which is not named."""
    return _in_yarn(item, key, 0)


@lru_cache(maxsize=4096)
def _in_yarn(item: Round, key: YarnKey | None, passes: int) -> Round:
    """A round with all loops drawn in a yarn, but for the first stitches, which it passes."""
    first, *others = item.work
    before, after = _divided(first.ops, passes)
    first = replace(first, ops=(*before, *_ops_in(after, key)))
    return replace(item, work=(first, *(replace(each, ops=_ops_in(each.ops, key)) for each in others)))


def _divided(ops: Ops, stitches: int) -> tuple[Ops, Ops]:
    """Operations up to so many stitches, all of them in the first operation, and those that follow."""
    if not stitches:
        return (), ops
    first = ops[0]
    assert isinstance(first, Op), "a part is reached over plain stitches"
    return (replace(first, n=stitches),), (replace(first, n=first.n - stitches), *ops[1:])


def _ops_in(ops: Ops, key: YarnKey | None) -> Ops:
    """Operations in a yarn; one that draws no loop has none."""
    return tuple(
        replace(item, ops=_ops_in(item.ops, key))
        if isinstance(item, Repeat)
        else replace(item, yarn=key if OPERATIONS[item.op].loops else None)
        for item in ops
    )
