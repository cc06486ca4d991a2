"""Reading the rows of a stitch pattern as they are typed: "Round 1: *k2tog, yo, k4; repeat from *".

    row      = [ ("round" | "row") numbers ":" ] ( "*" items [ "repeat from *" ] | items )
    items    = { item [ "," | ";" | "." ] }
    item     = ( "[" items "]" | "(" items ")" | stitch ) [ "x" number | number "times" | "twice" ]
    items    may end with "sl1, k2tog, psso", "sl1, k1, psso" or "sl2, k1, p2sso": a decrease spelled out
    stitch   = "k" [ number ] [ "tbl" ] | "sl" [ number ] [ "wyif" | "wyib" ] | "k2tog" | "yo" | "2/2 RC" | ...

Each row is a round, worked from the right side.
"""

from __future__ import annotations

from typing import NamedTuple

from .operations import Names, OpName
from .tokens import Token, tokens_of

MOST_STITCHES, MOST_ROUNDS = 60, 120
"""Stitches and rounds of a repeat (ours): those of a colour chart."""

MOST_OPERATIONS = 2 * MOST_STITCHES
"""Operations of one row: between any two stitches there may be a yarn over."""

CLOSING = {"[": "]", "(": ")"}
EXAMPLE = "k2, p1, yo, k2tog, 2/2 RC or [k1, p1] x 3"
TIMES = {"once": 1, "twice": 2}
PASSED_OVER: dict[tuple[str, Names], OpName] = {
    ("psso", ("sl", "k")): "skp",
    ("psso", ("sl", "k2tog")): "sk2p",
    ("p2sso", ("sl", "sl", "k")): "s2kpo",
}
"""Decreases that are spelled out: what is passed over, and the stitches before it."""

THROUGH: dict[OpName, OpName] = {"k": "ktbl", "p": "ptbl"}


class ReadingError(ValueError):
    """A row that cannot be read: where it stops being understood, and what was expected there."""

    def __init__(self, row: str, token: Token, expected: str) -> None:
        found = f"“{row[token.at :][:20].strip()}”" if token.kind != "end" else "its end"
        super().__init__(f"at {found} {expected}")


class TypedRow(NamedTuple):
    """A row as it was typed: the rounds that it is for, none where it does not say, and its operations once."""

    rounds: tuple[int, ...]
    names: Names


def read_row(row: str) -> TypedRow:
    """The operations of a row as it is typed.

    Raises ReadingError, which says where it cannot be read and what was expected there.
    """
    return _Reader(row).row()


class _Reader:
    """Goes through the words of one row, one method for each rule above."""

    def __init__(self, row: str) -> None:
        self._row = row
        self._tokens = tokens_of(row)
        self._next = 0

    def row(self) -> TypedRow:
        rounds = self._label() if self._sees("round", "rounds", "rnd", "rnds", "row", "rows") else ()
        starred = self._takes("*")
        names = self._items()
        if starred:
            self._repeat_from_the_star()
        if self._here.kind != "end":
            if self._here.text == "*":
                raise self._expected("no star is read: type one repeat, without the stitches before and after it")
            raise self._expected(f"a stitch is expected, like {EXAMPLE}")
        if not names:
            raise self._expected(f"stitches are expected, like {EXAMPLE}")
        return TypedRow(rounds, names)

    @property
    def _here(self) -> Token:
        return self._tokens[self._next]

    def _sees(self, *texts: str) -> bool:
        return self._here.text in texts

    def _takes(self, *texts: str) -> bool:
        """Whether the next word is one of these; it is passed then."""
        found = self._sees(*texts)
        self._next += found
        return found

    def _expected(self, what: str) -> ReadingError:
        return ReadingError(self._row, self._here, what)

    def _number(self) -> int:
        if self._here.kind != "number" or not 0 < len(self._here.text) < 4:
            raise self._expected("a number is expected")
        self._next += 1
        return int(self._tokens[self._next - 1].text)

    def _label(self) -> tuple[int, ...]:
        """The rounds that a row is for: "Round 1:", "Rounds 2, 4 and 6-8:"."""
        self._next += 1
        rounds: list[int] = []
        while True:
            first = self._number()
            last = self._number() if self._takes("-", "to") else first
            if not first <= last <= MOST_ROUNDS:
                raise self._expected(f"rounds are numbered from 1 up to {MOST_ROUNDS} at most")
            rounds += range(first, last + 1)
            if not self._takes(",", "and", "&"):
                break
        if self._takes("("):
            if self._sees("ws"):
                raise self._expected("rounds are expected, all from the right side: type this one as the outside shows")
            if not (self._takes("rs") and self._takes(")")):
                raise self._expected("a colon is expected after the numbers of the rounds")
        if not self._takes(":", "."):
            raise self._expected("a colon is expected after the numbers of the rounds")
        return tuple(rounds)

    def _items(self) -> Names:
        """Items up to a bracket that closes, a star, or the end."""
        names: Names = ()
        while self._here.kind in ("stitch", "counted") or self._sees(*CLOSING, "psso", "p2sso"):
            names = self._passed_over(names) if self._sees("psso", "p2sso") else names + self._item()
            if len(names) > MOST_OPERATIONS:
                raise self._expected(f"a repeat of {MOST_STITCHES} stitches at most is expected")
            while self._takes(",", ";", "."):
                pass
        return names

    def _item(self) -> Names:
        names = self._group() if self._sees(*CLOSING) else self._stitch()
        times = 1
        if self._sees(*TIMES):
            times = TIMES[self._here.text]
            self._next += 1
        elif self._takes("x"):
            times = self._number()
        elif self._here.kind == "number":
            times = self._number()
            if not self._takes("times", "x"):
                raise self._expected("“times” is expected after this number")
        if times * len(names) > MOST_OPERATIONS or not times:
            raise self._expected(f"1 to {MOST_STITCHES} stitches in all are expected before this")
        return names * times

    def _passed_over(self, names: Names) -> Names:
        """Stitches of which the last are a decrease that is spelled out, with that."""
        for (passed, before), name in PASSED_OVER.items():
            if self._sees(passed) and names[-len(before) :] == before:
                self._next += 1
                return (*names[: -len(before)], name)
        raise self._expected("“sl1, k1”, “sl1, k2tog” or, for p2sso, “sl2, k1” is expected before this")

    def _group(self) -> Names:
        closes = CLOSING[self._here.text]
        self._next += 1
        names = self._items()
        if not names:
            raise self._expected(f"stitches are expected in the brackets, like {EXAMPLE}")
        if not self._takes(closes):
            raise self._expected(f"“{closes}” is expected, or another stitch")
        return names

    def _stitch(self) -> Names:
        token = self._here
        self._next += 1
        assert token.name
        if token.kind == "stitch":
            return (token.name,)
        number = self._number() if self._here.kind == "number" and not self._counts_a_group() else 1
        if not 0 < number <= MOST_STITCHES:
            raise self._expected(f"1 to {MOST_STITCHES} stitches are expected before this")
        return (self._worked(token.name),) * number

    def _counts_a_group(self) -> bool:
        """Whether the number that comes says how often the stitch before it is worked: "k 3 times"."""
        return self._tokens[self._next + 1].text == "times"

    def _worked(self, name: OpName) -> OpName:
        """A counted stitch with what is said of it: through the back loop, or slipped with the yarn in front."""
        if name in THROUGH and self._takes("tbl"):
            return THROUGH[name]
        if name == "sl" and self._takes("wyif"):
            return "slwyif"
        if name == "sl":
            self._takes("wyib")
        return name

    def _repeat_from_the_star(self) -> None:
        """What may stand behind the stitches that a star begins: "repeat from * to end", "rep from *", "*"."""
        if self._takes("rep", "repeat"):
            if not (self._takes("from") and self._takes("*")):
                raise self._expected("“from *” is expected")
            if self._takes("to"):
                self._takes("the")
                if not self._takes("end"):
                    raise self._expected("“end” is expected")
            self._takes("around")
        else:
            self._takes("*")
        self._takes(".")
