"""Reading the rows of a stitch pattern as they are typed: "Round 1: *k2tog, yo, k4; repeat from *".

    row      = label ( as | { "*" } items end )
    items    = { item [ "," | ";" | "." ] }
    item     = ( "[" items "]" | "(" items ")" | stitch ) [ "x" number | number "times" | "twice" ]
    stitch   = "k" [ number ] [ "tbl" ] | "sl" [ number ] [ "wyif" | "wyib" ] | "k2tog" | "yo" | "2/2 RC" | ...
    end      = { "repeat" | "from" | "*" | "to" | "the" | "end" | "of" | "round" | "around" | ... }

Each row is a round, worked from the right side. What a label and "as" are, `labels` tells; the ways to write a stitch,
`tokens`.
"""

from __future__ import annotations

from typing import NamedTuple

from .labels import Label, read_as, read_label
from .operations import CABLES, Names, OpName
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
FILLING = (*TO_THE_END, "repeat", "from", "*", "the", "end", "of", "round", "st", ".", ",", ";")
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
AGAIN = "the next round is expected: rounds begin again by themselves, so leave this row out"

_SIZES = dict.fromkeys(name.split()[0] for name in CABLES)
A_CABLE = f"a cable of {', '.join(_SIZES)} stitches is expected, like 2/2 RC or C4F"

MEANT = {
    "psso": DECREASES, "p2sso": DECREASES, "pass": DECREASES, "kwise": PURLWISE, "last": NO_REST, "*": NO_STAR,
    "round": A_LINE, "cable": A_CABLE,
}  # fmt: skip
"""What is expected in place of words that patterns have and that are not read."""


class TypedRow(NamedTuple):
    """A row as it was typed: its label, its operations once, and the rounds that it is worked like instead of those."""

    label: Label
    names: Names
    like: tuple[int, ...] = ()


def read_row(row: str) -> TypedRow:
    """The operations of a row as it is typed.

    Raises ReadingError, which says where it cannot be read and what was expected there.
    """
    words = Words(row)
    label = read_label(words)
    if label == Label() and words.sees("repeat") and words.ahead.text == "round":
        raise words.expected(AGAIN)
    like = () if label == Label() else read_as(words)
    return TypedRow(label, () if like else _names(words), like)


def _names(words: Words) -> Names:
    """The operations of a row behind its label, and what says that they are repeated."""
    words.skips("*")
    items = _items(words)
    begins = words.here
    if len(items) > 1 and words.before.kind == "counted" and words.sees(*TO_THE_END):
        raise words.expected(A_COUNT)
    words.skips(*FILLING)
    if words.here.kind != "end":
        raise _beyond(words, begins)
    if not items:
        raise words.expected(f"stitches are expected, like {EXAMPLE}")
    return sum(items, ())


def _beyond(words: Words, begins: Token) -> ReadingError:
    """The error of a row that goes on behind its repeat, where what says that it is one `begins`."""
    if words.here.kind == "number" and words.before.text == "round":
        return words.expected(A_LINE, words.before)
    if words.here.kind == "number" and begins.text in ("*", "repeat"):
        return words.expected(IN_BRACKETS)
    at = words.here if words.sees(*MEANT) else begins
    return words.expected(MEANT.get(at.text, A_STITCH), at)


def _items(words: Words, deep: int = 0) -> list[Names]:
    """Items up to a bracket that closes, a star, or the end, inside so many brackets."""
    items: list[Names] = []
    while words.here.kind in ("stitch", "counted") or words.sees(*CLOSING):
        begins = words.here
        items.append(_item(words, deep))
        if sum(map(len, items)) > MOST_OPERATIONS:
            raise _too_wide(words, begins)
        words.skips(",", ";", ".")
    return items


def _item(words: Words, deep: int) -> Names:
    begins = words.here
    names = _group(words, deep + 1) if words.sees(*CLOSING) else _stitch(words)
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


def _too_wide(words: Words, at: Token) -> ReadingError:
    return words.expected(f"a repeat of {MOST_STITCHES} stitches at most is expected", at)


def _group(words: Words, deep: int) -> Names:
    if deep > MOST_NESTED:
        raise words.expected(f"brackets in brackets are expected {MOST_NESTED} deep at most")
    closes = CLOSING[words.word().text]
    names: Names = sum(_items(words, deep), ())
    if not names:
        raise words.expected(f"stitches are expected in the brackets, like {EXAMPLE}")
    if not words.takes(closes):
        raise words.expected(MEANT.get(words.here.text, f"“{closes}” is expected, or another stitch"))
    return names


def _stitch(words: Words) -> Names:
    token = words.word()
    assert token.name
    if token.kind == "stitch":
        return (token.name,)
    counted = words.here.kind == "number" and words.ahead.text != "times"
    number = words.number(MOST_STITCHES) if counted else 1
    if counted:
        words.takes("st")
    return (_worked(words, token.name),) * number


def _worked(words: Words, name: OpName) -> OpName:
    """A counted stitch with what is said of it: through the back loop, or slipped with the yarn in front."""
    if name in THROUGH and words.takes("tbl"):
        return THROUGH[name]
    if name == "sl":
        words.takes("pwise")
        if words.takes("wyif"):
            return "slwyif"
        words.takes("wyib")
    return name
