"""Which rounds a row is for, as it says before its stitches.

    label    = named [ side ] [ ":" | "." | ")" | "-" ] [ side ]
    named    = noun numbers | numbers [ noun ] | parity noun numbers | each noun | sides
    numbers  = number [ ( "-" | "to" ) number ] { ( "," | "and" ) number ... } [ "and" ( parity | sides ) ] | parity
    parity   = [ each ] [ "following" ] ( "even" | "odd" | "other" )
    sides    = [ each ] [ "other" ] side [ noun ]
    each     = "all" | "every"
    side     = "RS" | "WS" | "(RS)" | "(WS)"
    as       = [ "work" | "same" ] ( "as" | "repeat" ) noun numbers

A row may do with a noun and numbers what another one does: "Round 5: as round 1".
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, NamedTuple, TypeAlias

from .words import Words

MOST_ROUNDS = 120
"""Rounds of a repeat (ours): those of a colour chart."""

Side: TypeAlias = Literal["", "RS", "WS"]

BEHIND = (":", ".", ")", "-")
SIDES: dict[str, Side] = {"rs": "RS", "ws": "WS"}
NOUNS = ("round", "row")
NAMED_ROUND = "the number of a round"
NO_WRONG_SIDE = "a right side is expected, for a round has no other: call it a row, or type what the outside shows"


class Label(NamedTuple):
    """The rounds that are named, the one from which on every other is meant too, 0 where none is, and their side.

    A label of a side alone is for every row of it. `called` is what the row says that it is, a round or a row.
    """

    rounds: tuple[int, ...] = ()
    every_other: int = 0
    side: Side = ""
    called: str = ""


def read_label(words: Words) -> Label:
    """The rounds that a row begins with; none where it does not say. Raises ReadingError."""
    begins = words.here
    if words.sees("all", "every") and words.ahead.text in NOUNS:
        words.word()
        called = _noun(words)
        return Label((1,) if called == "round" else (1, 2), called=called)._replace(side=_side_behind(words))
    called = _noun(words)
    named = called or words.sees("all", "every", "even", "odd", *SIDES) or _sees_a_side(words)
    if not named and (begins.kind != "number" or words.ahead.text == "edge"):
        return Label()
    label = Label() if _sees_a_side(words) else _numbers(words)
    called = _noun(words) or called
    if label.every_other and not label.rounds and words.here.kind == "number":
        label = Label(tuple(number for number in _numbers(words).rounds if (number - label.every_other) % 2 == 0))
    label = _and_every_other(words, label)
    if not (words.sees(*BEHIND) or _sees_a_side(words) or named or called):
        raise words.expected("a stitch is expected, or a colon after the number of a round", begins)
    side = _side_behind(words) or label.side
    label = _and_every_other(words, label)
    if called == "round" and side == "WS":
        raise words.expected(NO_WRONG_SIDE, begins)
    return label._replace(side=side or label.side, called=called)


def _noun(words: Words) -> str:
    return words.word().text if words.sees(*NOUNS) else ""


def _sees_a_side(words: Words) -> bool:
    return words.sees(*SIDES) or (words.sees("(") and words.ahead.text in SIDES)


def _side_behind(words: Words) -> Side:
    """The side that a label names before or behind its colon, none where it does not, and what ends the label."""
    side: Side = ""
    words.skips(*BEHIND)
    if _sees_a_side(words):
        words.takes("(")
        side = SIDES[words.word().text]
        words.skips(*NOUNS, *BEHIND)
    return side


def _and_every_other(words: Words, label: Label) -> Label:
    """The label with what it is for besides, in brackets or not: "Row 2 (and all other WS rows)"."""
    if not (words.sees("and", "&") or (words.sees("(") and words.ahead.text in ("and", "&"))):
        return label
    words.skips("(", "and", "&")
    every_other, side = _parity(words, label.rounds)
    words.skips(*NOUNS, ")", *BEHIND)
    return Label(label.rounds, every_other, side)


def read_as(words: Words) -> tuple[int, ...]:
    """The rounds that a row is worked like: "as rounds 1 and 2"; none where it has its own stitches."""
    if not (words.sees("work", "same", "as") or (words.sees("repeat") and words.ahead.text in NOUNS)):
        return ()
    words.skips("work", "same", "as", "repeat", "for")
    if not (words.takes(*NOUNS) or words.here.kind == "number"):
        raise words.expected("“round” and its number are expected")
    rounds = _numbers(words).rounds
    words.skips(*NOUNS)
    words.takes(".")
    if words.here.kind != "end":
        raise words.expected("the end of the row is expected")
    return rounds


def _numbers(words: Words) -> Label:
    rounds: list[int] = []
    while True:
        every_other, side = _parity(words, rounds)
        if every_other or side:
            return Label(tuple(rounds), every_other, side)
        first = words.number(MOST_ROUNDS, NAMED_ROUND)
        last = first
        if words.sees("to", "through", "thru") or (words.sees("-") and words.ahead.kind == "number"):
            words.word()
            at = words.here
            last = words.number(MOST_ROUNDS, NAMED_ROUND)
            if last < first:
                raise words.expected(f"the number of a round after {first} is expected", at)
        rounds += range(first, last + 1)
        listed = words.takes(",", "and", "&")
        if not listed or (words.before.text == "," and _sees_a_side(words)):
            return Label(tuple(rounds))
        words.takes("and")
        words.skips(*NOUNS)


def _parity(words: Words, rounds: Sequence[int]) -> tuple[int, Side]:
    """The round from which on every other one is meant, 0 for none, and a side that is named.

    That is the second or the first round, or the last one named.
    """
    words.skips("all", "every", "the", "following", "remaining")
    if words.sees(*SIDES) or (words.sees("other") and words.ahead.text in SIDES):
        words.skips("other")
        return (rounds[-1] if rounds else 0), SIDES[words.word().text]
    if words.takes("even"):
        return 2, ""
    if words.takes("odd"):
        return 1, ""
    if rounds and words.takes("other"):
        return rounds[-1], ""
    return 0, ""
