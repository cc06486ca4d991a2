"""How far a pair is knitted, by where the parts of its socks end that a leader speaks of. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple, TypeAlias, cast

from ..planning.plan.document import PARTS_OF_SOCK, PartOfSock
from .logbook import SOCKS, Sock

Ends: TypeAlias = dict[str, dict[str, int]]
"""By the number of the sock and by the part, in the order of knitting: how many rounds are done when that is."""

STEPS = 4
"""Into so many steps each part is divided for marks: finer ones would lie on each other (ours)."""


class PlaceOnSock(NamedTuple):
    """A place on a sock: its part, and how many steps down that, from the cuff to the toe."""

    sock: Sock
    part: PartOfSock
    step: int

    @classmethod
    def read(cls, word: str) -> PlaceOnSock:
        """The place that a word says."""
        sock, part, step = word.split("-")
        return cls(cast(Sock, int(sock)), cast(PartOfSock, part), int(step))

    @property
    def order(self) -> tuple[int, int, int]:
        """Before which others it comes."""
        return self.sock, PARTS_OF_SOCK.index(self.part), self.step

    @property
    def word(self) -> str:
        """The place in an address."""
        return f"{self.sock}-{self.part}-{self.step}"


def bit(sock: Sock, part: PartOfSock) -> int:
    """The bit that stands for a part of a sock that is done."""
    return 1 << ((sock - 1) * len(PARTS_OF_SOCK) + PARTS_OF_SOCK.index(part))


@dataclass(frozen=True)
class PairProgress:
    """The rounds done of each sock, and where its parts end; `construction` in words says which way it is knitted."""

    done: Mapping[Sock, int]
    ends: Ends
    construction: str

    @property
    def knitted(self) -> float:
        """How much of the pair is knitted, 0 to 1."""
        one, two = self.done.values()
        whole = sum(next(reversed(ends.values()), 0) for ends in self.ends.values())
        return (one + two) / whole if whole else 0.0

    @property
    def place(self) -> PlaceOnSock | None:
        """Where the sock in hand is, which is sock two from its cast-on; None before the first cast-on."""
        sock: Sock = 2 if self.done[2] else 1
        ends = self.ends.get(str(sock), {})
        whole = next(reversed(ends.values()), 0)
        done, start = min(self.done[sock], whole), 0
        if not done:
            return None
        for part, end in ends.items():
            if done < end or end == whole:
                share = (done - start) / (end - start)
                down = 1 - share if self.construction.startswith("toe-up") else share
                return PlaceOnSock(sock, cast(PartOfSock, part), round(down * STEPS))
            start = end
        return None

    @property
    def reached(self) -> int:
        """The bits of all parts that are done; where a sock has no such part, the heel stands for it."""
        return sum(
            bit(sock, part) for sock in SOCKS for part in PARTS_OF_SOCK if self.done[sock] >= self._end(sock, part)
        )

    def _end(self, sock: Sock, part: PartOfSock) -> int:
        ends = self.ends.get(str(sock), {})
        return ends.get(part) or ends.get("heel", 0)


def rounds_done(places: Iterable[tuple[Any, ...]]) -> dict[Sock, int]:
    """The rounds done of each sock, from rows of sock and round; one that no longer reads counts as none."""
    found = {sock: done for sock, done in places if isinstance(done, int)}
    return {sock: found.get(sock, 0) for sock in SOCKS}
