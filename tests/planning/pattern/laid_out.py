"""Rounds that refer to a stitch pattern, laid out by what the written pattern says of that: independent of the program.

"k2, panel, k2" has the panel of the round, "25 in pattern beginning with stitch 4 of the repeat" goes on from there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import accumulate, cycle, dropwhile
from typing import Any

from tests.planning.patterned import makes, takes
from tests.reader import read_words, split_items

DESCRIBED = re.compile(r"Rounds? (?P<first>\d+)(?: to (?P<last>\d+))?: (?P<words>.*)")
NONE = re.compile(r"[kp]0(?:tbl)?|\[[^][]*\] x 0")
BEGINNING = re.compile(r"(?P<stitches>\d+) in pattern beginning with stitch (?P<first>\d+) of the repeat")
COUNTED = {"k": "k1", "p": "p1", "ktbl": "k1tbl", "ptbl": "p1tbl", "sl": "sl1", "slwyif": "sl1 wyif"}
ZONE = re.compile(r"(?P<before>(?:[A-Z][a-z]+: )?(?:all in [A-D]: )?)(?P<items>.*)")
KEPT = re.compile(r"(?P<stitches>\d+) in pattern|(?P<ops>[a-z0-9]+(?: or [a-z0-9]+)*)")

Kept = tuple[int | frozenset[str], ...]
"""Stitches in pattern, and operations between them, each one of some."""


def described_rounds(lines: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """The operations of each round of a pattern, from the lines that describe it; the first tells how wide it is."""
    size, *others = lines
    wide = re.search(r"(\d+) stitch", size)
    assert wide
    rounds: list[tuple[str, ...]] = []
    for line in others:
        found = DESCRIBED.fullmatch(line)
        assert found
        assert int(found["first"]) == len(rounds) + 1
        words = {"knit": f"k{wide[1]}", "purl": f"p{wide[1]}"}.get(found["words"], found["words"])
        rounds += [tuple(flat(read_words(words)))] * (int(found["last"] or found["first"]) - len(rounds))
    return tuple(rounds)


def flat(ops: Sequence[dict[str, Any]]) -> Iterator[str]:
    """Every operation by itself."""
    for op in ops:
        for _ in range(op.get("times", op.get("n", 1))):
            yield from flat(op["ops"]) if "ops" in op else [op["op"]]


def laid_out(text: str, row: Sequence[str]) -> str:
    """The words of a round with its panel or its repeats written out, and without what this size has none of."""
    zones = []
    for zone in text.split("; "):
        found = ZONE.fullmatch(zone)
        assert found
        items = [item for item in split_items(found["items"]) if not NONE.fullmatch(item)]
        zones.append(found["before"] + ", ".join(_written_out(item, row) for item in items))
    return "; ".join(zones)


def _written_out(item: str, row: Sequence[str]) -> str:
    begins = BEGINNING.fullmatch(item)
    if not begins and item != "panel":
        return item
    ops = [*_from(row, int(begins["first"]) - 1, int(begins["stitches"]))] if begins else row
    return ", ".join(COUNTED.get(op, op) for op in ops)


def _from(row: Sequence[str], first: int, stitches: int) -> Iterator[str]:
    """So many stitches of a row over and over, from one of its own on; no cable lies across either end."""
    done = [*accumulate(map(takes, row), initial=0)]
    [start] = [at for at, op in enumerate(row) if done[at] == first and _even(row[:at])]
    ahead = (op for _, op in dropwhile(lambda each: each[0] < start, cycle(enumerate(row))))
    taken = made = 0
    for op in ahead:
        if taken == made == stitches:
            return
        assert taken <= stitches
        yield op
        taken, made = taken + takes(op), made + makes(op)


def _even(ops: Sequence[str]) -> bool:
    return sum(map(takes, ops)) == sum(map(makes, ops))


def kept_in_pattern(text: str) -> Kept | None:
    """What a round says that keeps in pattern, and writes out only what shapes it; None for any other round."""
    if text == "in pattern":
        return ()
    found = [KEPT.fullmatch(item) for item in text.replace("k2, ", "k, k, ").split(", ")]
    pieces = [int(each["stitches"]) if each["stitches"] else each["ops"] for each in found if each]
    if len(pieces) < len(found) or not isinstance(pieces[0], int):
        return None
    return tuple(piece if isinstance(piece, int) else frozenset(piece.split(" or ")) for piece in pieces)
