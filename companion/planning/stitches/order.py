"""The rows of a pattern in the order of working, each from the side that it is worked from.

Rows are rounds, all from the right side, until one says that it is from the wrong side, or which is from the right one,
or a line says that they are worked flat, or what is called a row has edges. Then the sides take turns. Where none says
which is which the first row is from the right side (common practice), but for what the rows themselves show.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from .items import EXAMPLE
from .labels import Label
from .reading import FLAT, TypedRow, read_row
from .sides import FROM_BEHIND, appearing
from .words import ReadingError


class OrderedRows(NamedTuple):
    """The rows of a repeat from the first to the last, as the right side shows them, and which are from the other."""

    rows: tuple[TypedRow, ...]
    wrong_sides: tuple[int, ...]


class _Row(NamedTuple):
    text: str
    typed: TypedRow
    label: Label


def in_order(texts: Sequence[str]) -> OrderedRows:
    """The rows by their numbers, or as they stand; each with the operations that it has in the end.

    Raises ValueError with a sentence for the knitter where one cannot be read (ReadingError), or they do not follow one
    another.
    """
    read = [(text, read_row(text)) for text in texts]
    described = [(text, typed) for text, typed in read if typed.label != FLAT]
    if not described:
        raise ValueError(f"stitches are expected, like {EXAMPLE}")
    labels = _labels([typed.label for _, typed in described])
    flat = len(described) < len(read) or any(row.has_edges and row.label.called == "row" for _, row in described)
    rows = [_Row(text, typed, label) for (text, typed), label in zip(described, labels, strict=True)]
    wrong = _wrong_side(labels)
    if flat and not any(label.side for label in labels):
        wrong = _wrong_side_by_stitches(rows)
    found = _numbered(rows, wrong)
    for number in range(1, max(found) + 1):
        if number not in found:
            raise ValueError(f"round {number} is missing, and there is a round {max(found)}; describe every round")
    numbers = sorted(found)
    wrong_sides = tuple(number for number in numbers if number % 2 == wrong)
    if wrong_sides and len(numbers) % 2:
        raise ValueError(
            f"{len(numbers)} rows that are worked flat begin again on the other side; describe them twice, one after "
            "the other"
        )
    return OrderedRows(tuple(_seen(found, number, wrong) for number in numbers), wrong_sides)


def _labels(labels: Sequence[Label]) -> list[Label]:
    """The labels, with the numbers of rows that stand in order or are told apart by their sides alone."""
    if any(label.rounds or label.every_other for label in labels):
        return [*labels]
    many = Counter(label.side for label in labels)
    alone = next((side for side in ("RS", "WS") if len(many) == 2 and many[side] == 1 < len(labels) - 1), None)
    if alone is None or many[""]:
        return [label._replace(rounds=(number,)) for number, label in enumerate(labels, start=1)]
    # One row of a side is every row of it, beside several of the other side.
    first = 2 if labels[0].side == alone else 1
    numbers = iter(range(first, 2 * len(labels), 2))
    return [
        label._replace(every_other=3 - first) if label.side == alone else label._replace(rounds=(next(numbers),))
        for label in labels
    ]


def _wrong_side_by_stitches(rows: Sequence[_Row]) -> int:
    """What the numbers of rows from the wrong side leave divided by two, where none says it.

    They are the even ones, but where only these cross, or all others are purled and these are more than knit and purl.
    """
    odd, even = ({name for row in rows if _has(row.label, parity) for name in row.typed.names} for parity in (1, 0))
    only_even_cross = FROM_BEHIND.keys() >= odd and not FROM_BEHIND.keys() >= even
    between_purled = odd == {"p"} and not even <= {"k", "p"}
    return int(only_even_cross or between_purled)


def _has(label: Label, parity: int) -> bool:
    """Whether a label names rounds whose numbers leave this divided by two."""
    return parity in {number % 2 for number in (*label.rounds, label.every_other) if number}


def _wrong_side(labels: Sequence[Label]) -> int | None:
    """The same where a row says its side; None where none does, or all are from the right one."""
    sided = [label for label in labels if label.side and label.called != "round"]
    told = {(number % 2, label.side) for label in sided for number in label.rounds or (label.every_other,) if number}
    wrong = {odd if side == "WS" else 1 - odd for odd, side in told}
    if len(wrong) > 1:
        if "WS" not in {label.side for label in sided}:
            return None
        raise ValueError(
            "of two rows one is from the right side and one from the wrong side; check which are called so"
        )
    if wrong:
        return wrong.pop()
    if not sided:
        return None
    numbered = {number % 2 for label in labels for number in label.rounds}
    others = numbered.pop() if len(numbered) == 1 else 1
    return others if sided[0].side == "RS" else 1 - others


def _numbered(rows: Sequence[_Row], wrong: int | None) -> dict[int, _Row]:
    """The row of each round by its number, those for every other round where no other row is."""
    found: dict[int, _Row] = {}
    for place, row in enumerate(rows, start=1):
        if not (row.label.rounds or row.label.every_other or row.label.side):
            raise ValueError(f"row {place} does not say which round it is, and others do; number all rows, or none")
        for number in row.label.rounds:
            if number in found:
                raise ValueError(f"round {number} is described twice; leave one of the two out")
            found[number] = row
    for row in rows:
        if first := _every_other(row.label, wrong):
            for number in range(first, _even(max(found, default=1)) + 1, 2):
                found.setdefault(number, row)
    return found


def _every_other(label: Label, wrong: int | None) -> int:
    """The round from which on a row is for every other one, 0 where it is only for those that it names."""
    if label.every_other or label.rounds:
        return label.every_other
    return 1 if (label.side == "WS") == (wrong == 1) else 2


def _even(number: int) -> int:
    """The number, or the next one where it is odd: rounds of which every other one is alike come in pairs."""
    return number + number % 2


def _seen(found: Mapping[int, _Row], number: int, wrong: int | None) -> TypedRow:
    """The row of a round as the right side shows it, its own or an earlier one that it is worked like."""
    row = _worked_like(found, number)
    if row.typed.appears:
        return _as_it_appears(row.typed, _seen_below(found, number, wrong))
    if number % 2 != wrong:
        return row.typed
    try:
        return read_row(row.text, wrong_side=True)
    except ReadingError as error:
        raise ValueError(f"row {number}, {error}") from error


def _seen_below(found: Mapping[int, _Row], number: int, wrong: int | None) -> TypedRow:
    """The row below one that is worked as it appears, which has stitches of its own; below the first is the last."""
    below = [*range(number - 1, 0, -1), *range(len(found), number, -1)]
    own = next((each for each in below if not _worked_like(found, each).typed.appears), None)
    if own is None:
        raise ValueError("no row says what is worked, for all are worked as they appear; describe one of them")
    return _seen(found, own, wrong)


def _as_it_appears(row: TypedRow, below: TypedRow) -> TypedRow:
    """A row that is knitted over knits and purled over purls; a yarn over is knitted as the right side shows it."""
    after = None if below.after is None else appearing(below.after)
    return row._replace(names=appearing(below.names), before=appearing(below.before), after=after)


def _worked_like(found: Mapping[int, _Row], number: int) -> _Row:
    row = found[number]
    if not row.typed.like:
        return row
    rounds, likes = row.label.rounds, row.typed.like
    if len(rounds) % len(likes):
        raise ValueError(f"{len(rounds)} rounds are to be worked as {len(likes)} others; give one for each of them")
    like = likes[rounds.index(number) % len(likes) if number in rounds else 0]
    if like >= number or like not in found:
        raise ValueError(f"round {number} is as round {like}, which is not before it; describe its stitches")
    return _worked_like(found, like)
