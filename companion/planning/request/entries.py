"""Kinds of entries that a request has in several places: text on one line, numbers, letters of yarns, short lists."""

from __future__ import annotations

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import AfterValidator, BeforeValidator, Strict, StringConstraints


def few(most: int) -> BeforeValidator:
    """Refuses a longer list before its entries are read: each of them would be reported as wrong."""

    def counted(given: object) -> object:
        if isinstance(given, list | tuple) and len(given) > most:
            raise ValueError(f"at most {most} allowed")
        return given

    return BeforeValidator(counted)


def _on_one_line(text: str) -> str:
    return " ".join("".join(each if each.isprintable() else " " for each in text).split())


Text: TypeAlias = Annotated[str, StringConstraints(max_length=80), AfterValidator(_on_one_line)]
Number: TypeAlias = Annotated[float, Strict()]
"""A number as JSON writes it; true is not one, and neither is "22"."""

NOT_IN_EVERY_REQUEST = ("other_foot", "parts", "reinforcing_thread", "numbers_hidden", "hidden_until")
"""Entries that a request or a design has only where something is asked there."""


def without_empty_entries(shape: dict[str, Any]) -> dict[str, Any]:
    """A document without those entries where nothing is asked there: those that never ask do not change."""
    return {entry: value for entry, value in shape.items() if value or entry not in NOT_IN_EVERY_REQUEST}


YarnKey: TypeAlias = Literal["A", "B", "C", "D"]
"""The letter that names a yarn."""
