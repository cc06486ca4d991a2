"""Reading the rows of a stitch pattern as they are typed: "Row 1: k1, *k2tog, yo, k4; repeat from * to last st, k1".

    row      = label ( as | appears | [ items ] { "*" } items [ end ] [ rest ] )
    end      = { "repeat" | "from" | "*" | "to" | "the" | "end" | "of" | "round" | "around" | ... }
    rest     = [ "last" number "st" ] [ "end" | "ending" ] [ "last" "repeat" ] [ "with" ] items

What a label and "as" are, `labels` tells; what items are, `items`; a row "appears" where it says to knit the knits.
Stitches before and behind what is repeated are the edges of a flat piece. Without a star that is a bracket, or a stitch
without a number: "k2, purl to last 2 sts, k2".
"""

from __future__ import annotations

import re
from typing import NamedTuple

from .items import A_LINE, CLOSING, EXAMPLE, MEANT, MOST_STITCHES, PURLWISE, Items
from .labels import NOUNS, Label, read_as, read_label
from .operations import OPERATIONS, Names
from .sides import from_behind
from .tokens import Token
from .words import ReadingError, Words

TO_THE_END = ("to", "around", "across", "all", "every", "each")
FILLING = (*TO_THE_END, "repeat", "from", "*", "the", "end", "of", *NOUNS, "st", ".", ",", ";")
"""What may stand behind a repeat, and says no more than that it is one."""

ENDING = ("end", "ends", "ending", "with", "by")

A_STITCH = f"a stitch is expected, like {EXAMPLE}"
A_STAR = "a star is expected before what is repeated, or brackets round it"
IN_BRACKETS = "the end is expected: type what is repeated a number of times in brackets, like [k1, p1] x 3"
A_COUNT = "the number of stitches is expected, like k6: type one repeat"
AGAIN = "the next round is expected: rounds begin again by themselves, so leave this row out"
WHOLE_REST = (
    "all stitches behind the last whole repeat are expected, for they come first as the right side shows the row"
)

AS_IT_APPEARS = re.compile(
    r"\bas (?:it|they) (?:appears?|faces?|presents?|shows?)\b|\bk(?:nit)? (?:all )?the k(?:nits?)?\b", re.IGNORECASE
)

FLAT = Label(called="flat")
"""What a line says that has no stitches, and tells that all the others are worked flat, in rows."""


class TypedRow(NamedTuple):
    """A row as it was typed: its label, its operations once, and the rounds that it is worked like instead of those.

    `before` and `after` are the stitches beside its repeats, the right end of the row first as the right side shows it;
    `after` is None where the last repeat was only worked in part. A row that `appears` is knitted over knits and purled
    over purls of the row below, and has no operations of its own.
    """

    label: Label
    names: Names
    like: tuple[int, ...] = ()
    before: Names = ()
    after: Names | None = ()
    appears: bool = False

    @property
    def has_edges(self) -> bool:
        """Whether there are stitches beside its repeats."""
        return self.before != () or self.after != ()


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
    if AS_IT_APPEARS.search(row):
        return TypedRow(label, (), appears=True)
    if label != Label() and (like := read_as(words)):
        return TypedRow(label, (), like)
    before, names, after = _parts(words, Items(words, wrong_side=wrong_side))
    if not wrong_side:
        return TypedRow(label, names, (), before, after)
    if after is None:
        raise words.expected(WHOLE_REST)
    return TypedRow(label, from_behind(names), (), from_behind(after), from_behind(before))


def _read_flat(words: Words) -> Label:
    begins = words.here
    words.skips("worked", "flat", "in", "back", "and", "forth", ".", ":", ",", *NOUNS[1:])
    if words.here.kind != "end":
        raise words.expected("“worked flat” is expected, on a line of its own", begins)
    return FLAT


class _Repeat(NamedTuple):
    """The items that a row repeats, from a place on, and those before it; whether a star or a bracket says so."""

    at: int
    items: list[Names]
    before: list[Names]
    is_marked: bool


def _parts(words: Words, reader: Items) -> tuple[Names, Names, Names | None]:
    """The stitches before what is repeated, those of one repeat, and those after it, None for a part of a repeat."""
    repeat = _repeat(words, reader)
    ends, last = words.here, reader.last
    words.skips(*FILLING)
    left = _left(words)
    if last.unnumbered and len(repeat.items) > 1 and ends.text in TO_THE_END and (repeat.is_marked or left is None):
        raise words.expected(A_COUNT, ends)
    if not repeat.is_marked and ends.kind != "end" and (last.bracketed or (last.unnumbered and left)):
        repeat = _Repeat(last.at, repeat.items[-1:], repeat.items[:-1], is_marked=True)
    slipped = [token for token in reader.knitwise if repeat.at <= token.at < ends.at]
    if slipped:
        raise words.expected(PURLWISE, slipped[0])
    after = _after(words, reader, ends, left)
    if (after or left) and not repeat.is_marked:
        raise words.expected(A_STAR, ends)
    if not repeat.items:
        raise words.expected(f"stitches are expected, like {EXAMPLE}")
    return sum(repeat.before, ()), sum(repeat.items, ()), after


def _repeat(words: Words, reader: Items) -> _Repeat:
    """The items from the star on, where there is one, and those before it."""
    starred = words.takes("*")
    words.skips("*")
    begins, items = words.here, reader.read()
    if starred or not words.sees("*") or not (words.ahead.kind in ("stitch", "counted") or words.ahead.text in CLOSING):
        return _Repeat(begins.at, items, [], starred)
    words.skips("*")
    return _Repeat(words.here.at, reader.read(), items, is_marked=True)


def _left(words: Words) -> int | None:
    """The stitches before which the repeats end: "last 2 sts", "2 sts before the end"; None where it is not said."""
    until = words.takes("until", "within")
    words.skips("the")
    before_the_end = words.here.kind == "number" and words.ahead.text == "st"
    if words.sees("last") and words.ahead.text != "repeat":
        words.word()
    elif not (until or before_the_end):
        return None
    number = words.number(MOST_STITCHES) if words.here.kind == "number" else 1
    words.skips("st", "remain", "remains", "rem", "before", "the", "end", "of", *NOUNS, ",", ";", ".", ":")
    return number


def _after(words: Words, reader: Items, ends: Token, left: int | None) -> Names | None:
    """The stitches behind the repeats, which end at a place of the row and leave so many."""
    words.skips(*ENDING)
    in_part = words.sees("last") and words.ahead.text == "repeat"
    if in_part:
        words.skips("last", "repeat", *ENDING)
    begins = words.here
    after: Names = sum(reader.read(), ())
    if words.here.kind != "end":
        raise _beyond(words, ends)
    if left and not in_part and left != sum(OPERATIONS[name].takes for name in after):
        raise words.expected(f"the {left} stitches that the repeats leave are expected", begins)
    return None if in_part else after


def _beyond(words: Words, ends: Token) -> ReadingError:
    """The error of a row that goes on behind its repeat, where what says that it is one begins at `ends`."""
    if words.here.kind == "number" and words.before.text in NOUNS:
        return words.expected(A_LINE, words.before)
    if words.here.kind == "number" and ends.text in ("*", "repeat"):
        return words.expected(IN_BRACKETS)
    at = words.here if words.sees(*MEANT) else ends
    return words.expected(MEANT.get(at.text, A_STITCH), at)
