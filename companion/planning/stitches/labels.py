"""Which rounds a row is for, as it says before its stitches.

    label    = ( noun numbers | numbers [ noun ] | parity noun numbers ) [ "(RS)" ] [ ":" | "." | ")" | "-" ]
    numbers  = number [ ( "-" | "to" ) number ] { ( "," | "and" ) number ... } [ "and" parity ] | parity
    parity   = [ "all" | "every" ] [ "following" ] ( "even" | "odd" | "other" )
    as       = [ "work" | "same" ] ( "as" | "repeat" ) noun numbers

A row may do with a noun and numbers what another one does: "Round 5: as round 1".
"""

from __future__ import annotations

from typing import NamedTuple

from .words import Words

MOST_ROUNDS = 120
"""Rounds of a repeat (ours): those of a colour chart."""

BEHIND = (":", ".", ")", "-")
NAMED_ROUND = "the number of a round"


class Label(NamedTuple):
    """The rounds that are named, and the one from which on every other is meant too, 0 where none is."""

    rounds: tuple[int, ...] = ()
    every_other: int = 0


def read_label(words: Words) -> Label:
    """The rounds that a row begins with; none where it does not say. Raises ReadingError."""
    begins = words.here
    named = words.takes("round") or words.sees("all", "every", "even", "odd", "ws")
    if not named and begins.kind != "number":
        return Label()
    label = _numbers(words)
    named |= words.takes("round")
    if label.every_other and not label.rounds and words.here.kind == "number":
        label = Label(tuple(number for number in _numbers(words).rounds if (number - label.every_other) % 2 == 0))
    bracketed = words.sees("(") and words.ahead.text in ("rs", "ws")
    if bracketed:
        words.word()
    _no_wrong_side(words)
    words.takes("rs")
    if bracketed:
        words.takes(")")
    if not (words.sees(*BEHIND) or named):
        raise words.expected("a stitch is expected, or a colon after the number of a round", begins)
    words.skips(*BEHIND)
    return label


def _no_wrong_side(words: Words) -> None:
    if words.sees("ws"):
        raise words.expected("rounds are expected, all from the right side: type this one as the outside shows")


def read_as(words: Words) -> tuple[int, ...]:
    """The rounds that a row is worked like: "as rounds 1 and 2"; none where it has its own stitches."""
    if not (words.sees("work", "same", "as") or (words.sees("repeat") and words.ahead.text == "round")):
        return ()
    words.skips("work", "same", "as", "repeat", "for")
    if not words.takes("round"):
        raise words.expected("“round” and its number are expected")
    rounds = _numbers(words).rounds
    words.takes(".")
    if words.here.kind != "end":
        raise words.expected("the end of the row is expected")
    return rounds


def _numbers(words: Words) -> Label:
    rounds: list[int] = []
    while True:
        if every_other := _parity(words, rounds):
            return Label(tuple(rounds), every_other)
        first = words.number(MOST_ROUNDS, NAMED_ROUND)
        last = first
        if words.sees("to", "through", "thru") or (words.sees("-") and words.ahead.kind == "number"):
            words.word()
            at = words.here
            last = words.number(MOST_ROUNDS, NAMED_ROUND)
            if last < first:
                raise words.expected(f"the number of a round after {first} is expected", at)
        rounds += range(first, last + 1)
        if not words.takes(",", "and", "&"):
            return Label(tuple(rounds))
        words.takes("and")
        words.takes("round")


def _parity(words: Words, rounds: list[int]) -> int:
    """The round from which on every other one is meant: the second or the first, or the last one named; else 0."""
    words.skips("all", "every", "the", "following", "remaining")
    _no_wrong_side(words)
    if words.takes("even"):
        return 2
    if words.takes("odd"):
        return 1
    if rounds and words.takes("other"):
        return rounds[-1]
    return 0
