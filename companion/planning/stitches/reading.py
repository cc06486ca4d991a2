"""Reading the rows of a stitch pattern as they are typed: "Round 1: *k2tog, yo, k4; repeat from *".

    row      = label ( as | { "*" } items end )
    items    = { item [ "," | ";" | "." ] }
    item     = ( "[" items "]" | "(" items ")" | stitch ) [ "x" number | number "times" | "twice" ]
    stitch   = "k" [ number ] [ "tbl" ] | "sl" [ number ] [ "wyif" | "wyib" ] | "k2tog" | "yo" | "2/2 RC" | ...
    end      = { "repeat" | "from" | "*" | "to" | "the" | "end" | "of" | "round" | "around" | ... }

What a label and "as" are, `labels` tells; the ways to write a stitch, `tokens`.
"""

from __future__ import annotations

from typing import NamedTuple

from .labels import NOUNS, Label, read_as, read_label
from .operations import CABLES, Names, OpName
from .sides import FROM_BEHIND, from_behind
from .tokens import Token
from .words import ReadingError, Words

MOST_STITCHES = 60
"""Stitches of a repeat (ours): those of a colour chart."""

MOST_OPERATIONS = 2 * MOST_STITCHES
"""Operations of one row: between any two stitches there may be a yarn over."""

MOST_NESTED = 8
"""Brackets in brackets (ours)."""

CLOSING = {"[": "]", "(": ")"}
TIMES = {"once": 1, "twice": 2, "thrice": 3}
THROUGH: dict[OpName, OpName] = {"k": "ktbl", "p": "ptbl"}

TO_THE_END = ("to", "around", "across", "all", "every", "each")
FILLING = (*TO_THE_END, "repeat", "from", "*", "the", "end", "of", *NOUNS, "st", ".", ",", ";")
"""What may stand behind a repeat, and says no more than that it is one."""

EXAMPLE = "k2, p1, yo, k2tog, 2/2 RC or [k1, p1] x 3"
A_STITCH = f"a stitch is expected, like {EXAMPLE}"
NO_STAR = "no star is read: type one repeat, without the stitches before and after it"
NO_REST = "the end is expected: rounds have no stitches beside the repeats, so leave these out"
IN_BRACKETS = "the end is expected: type what is repeated a number of times in brackets, like [k1, p1] x 3"
A_LINE = "a new line is expected for each round"
A_COUNT = "the number of stitches is expected, like k6: type one repeat"
DECREASES = "“sl1, k1, psso”, “sl1, k2tog, psso” or “sl2, k1, p2sso” is expected"
PURLWISE = "a slipped stitch is expected to be slipped purlwise, but in a decrease like “sl1, k1, psso”"
NOT_FROM_BEHIND = (
    "a stitch is expected that the wrong side can work: type every row as a round, the way the outside shows it"
)
AGAIN = "the next round is expected: rounds begin again by themselves, so leave this row out"

_SIZES = dict.fromkeys(name.split()[0] for name in CABLES)
A_CABLE = f"a cable of {', '.join(_SIZES)} stitches is expected, like 2/2 RC or C4F"

MEANT = {
    "psso": DECREASES, "p2sso": DECREASES, "pass": DECREASES, "kwise": PURLWISE, "last": NO_REST, "*": NO_STAR,
    **dict.fromkeys(NOUNS, A_LINE), "cable": A_CABLE,
}  # fmt: skip
"""What is expected in place of words that patterns have and that are not read."""


class TypedRow(NamedTuple):
    """A row as it was typed: its label, its operations once, and the rounds that it is worked like instead of those."""

    label: Label
    names: Names
    like: tuple[int, ...] = ()


FLAT = Label(called="flat")
"""What a line says that has no stitches, and tells that all the others are worked flat, in rows."""


def read_row(row: str, *, wrong_side: bool = False) -> TypedRow:
    """The operations of a row as it is typed, as the right side shows them; it is worked from there, or from behind.

    Raises ReadingError, which says where it cannot be read and what was expected there.
    """
    words = Words(row)
    if words.sees("worked", "flat"):
        return TypedRow(_read_flat(words), ())
    label = read_label(words)
    if label == Label() and words.sees("repeat") and words.ahead.text in NOUNS:
        raise words.expected(AGAIN)
    like = () if label == Label() else read_as(words)
    return TypedRow(label, () if like else _Reading(words, wrong_side=wrong_side).names(), like)


def _read_flat(words: Words) -> Label:
    begins = words.here
    words.skips("worked", "flat", "in", "back", "and", "forth", ".", ":", ",", *NOUNS[1:])
    if words.here.kind != "end":
        raise words.expected("“worked flat” is expected, on a line of its own", begins)
    return FLAT


class _Reading:
    """Going through the stitches of a row, which is worked from the right side or from the wrong one."""

    def __init__(self, words: Words, *, wrong_side: bool) -> None:
        self._words = words
        self._wrong_side = wrong_side

    def names(self) -> Names:
        """The operations behind the row's label, as the right side shows them."""
        words = self._words
        words.skips("*")
        items = self._items()
        begins = words.here
        if len(items) > 1 and words.before.kind == "counted" and words.sees(*TO_THE_END):
            raise words.expected(A_COUNT)
        words.skips(*FILLING)
        if words.here.kind != "end":
            raise _beyond(words, begins)
        if not items:
            raise words.expected(f"stitches are expected, like {EXAMPLE}")
        names: Names = sum(items, ())
        return from_behind(names) if self._wrong_side else names

    def _items(self, deep: int = 0) -> list[Names]:
        """Items up to a bracket that closes, a star, or the end, inside so many brackets."""
        words = self._words
        items: list[Names] = []
        while words.here.kind in ("stitch", "counted") or words.sees(*CLOSING):
            begins = words.here
            items.append(self._item(deep))
            if sum(map(len, items)) > MOST_OPERATIONS:
                raise _too_wide(words, begins)
            words.skips(",", ";", ".")
        return items

    def _item(self, deep: int) -> Names:
        words = self._words
        begins = words.here
        names = self._group(deep + 1) if words.sees(*CLOSING) else self._stitch()
        times = 1
        if words.sees(*TIMES):
            times = TIMES[words.word().text]
        elif words.takes("x"):
            times = words.number(MOST_OPERATIONS)
        elif words.here.kind == "number":
            times = words.number(MOST_OPERATIONS)
            if not words.takes("times", "x") and names != ("yo",):
                raise words.expected("“times” is expected after this number")
        if times * len(names) > MOST_OPERATIONS:
            raise _too_wide(words, begins)
        return names * times

    def _group(self, deep: int) -> Names:
        words = self._words
        if deep > MOST_NESTED:
            raise words.expected(f"brackets in brackets are expected {MOST_NESTED} deep at most")
        closes = CLOSING[words.word().text]
        names: Names = sum(self._items(deep), ())
        if not names:
            raise words.expected(f"stitches are expected in the brackets, like {EXAMPLE}")
        if not words.takes(closes):
            raise words.expected(MEANT.get(words.here.text, f"“{closes}” is expected, or another stitch"))
        return names

    def _stitch(self) -> Names:
        words = self._words
        token = words.word()
        assert token.name
        if self._wrong_side and token.name not in FROM_BEHIND:
            raise words.expected(NOT_FROM_BEHIND, token)
        if token.kind == "stitch":
            return (token.name,)
        counted = words.here.kind == "number" and words.ahead.text != "times"
        number = words.number(MOST_STITCHES) if counted else 1
        if counted:
            words.takes("st")
        return (self._worked(token.name),) * number

    def _worked(self, name: OpName) -> OpName:
        """A counted stitch with what is said of it: through the back loop, or where the yarn is while it is slipped.

        Where that is not said the yarn lies on the wrong side (common practice), which is in front of who works there.
        """
        words = self._words
        if name in THROUGH and words.takes("tbl"):
            return THROUGH[name]
        if name != "sl":
            return name
        words.takes("pwise")
        if words.takes("wyib"):
            return "sl"
        return "slwyif" if words.takes("wyif") or self._wrong_side else "sl"


def _beyond(words: Words, begins: Token) -> ReadingError:
    """The error of a row that goes on behind its repeat, where what says that it is one `begins`."""
    if words.here.kind == "number" and words.before.text in NOUNS:
        return words.expected(A_LINE, words.before)
    if words.here.kind == "number" and begins.text in ("*", "repeat"):
        return words.expected(IN_BRACKETS)
    at = words.here if words.sees(*MEANT) else begins
    return words.expected(MEANT.get(at.text, A_STITCH), at)


def _too_wide(words: Words, at: Token) -> ReadingError:
    return words.expected(f"a repeat of {MOST_STITCHES} stitches at most is expected", at)
