"""What is wrong with something a knitter gave, as values to be shown beside it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import accumulate, islice
from typing import Any

from pydantic import ValidationError


@dataclass(frozen=True)
class Fault:
    """One thing wrong with what was given.

    `where` is the dotted name of the entry ("foot.length_cm"), `given` what stood there, `message` says what
    is allowed and what to do.
    """

    where: str
    given: str
    message: str

    def __str__(self) -> str:
        """The fault as one line: where, what was given, and what to do."""
        shown = f"{self.given} given; " if self.given else ""
        place = f"{self.where}: " if self.where else ""
        return f"{place}{shown}{self.message}"


class CannotKnitError(Exception):
    """A request whose numbers are each allowed, but which cannot be knitted together."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(str(fault))
        self.fault = fault


LONGEST_SHOWN = 60


def shown(value: object) -> str:
    """A given value, short enough for one line and on one line."""
    text = (
        " ".join(value.split())
        if isinstance(value, str)
        else "null"
        if value is None
        else repr(value).removesuffix(".0")
    )
    # Half of a surrogate pair, which JSON can hold, cannot be written as UTF-8.
    text = text.encode("utf-8", "backslashreplace").decode()
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"


def _is_container(value: object) -> bool:
    return isinstance(value, dict | list | tuple)


_A_NUMBER = "a number is needed here"
_AN_OBJECT = "an object with entries of its own is needed here, in braces"
_NO_ENTRY = "not an entry of this document; check its spelling or leave it out"
_SENTENCES = {
    "missing": "needed, but missing",
    "extra_forbidden": _NO_ENTRY,
    "unexpected_keyword_argument": _NO_ENTRY,
    "greater_than_equal": "allowed from {ge:g} up",
    "less_than_equal": "allowed up to {le:g}",
    "finite_number": _A_NUMBER,
    "float_type": _A_NUMBER,
    "float_parsing": _A_NUMBER,
    "int_type": "a whole number is needed here",
    "int_parsing": _A_NUMBER,
    "int_from_float": "a whole number is needed here",
    "literal_error": "allowed: {expected}",
    "value_error": "{error}",
    "model_type": _AN_OBJECT,
    "dataclass_type": _AN_OBJECT,
    "tuple_type": "a list is needed here, in square brackets",
    "too_short": "at least {min_length} is needed",
    "too_long": "at most {max_length} allowed",
    "string_type": "text is needed here, in quotation marks",
    "string_too_long": "at most {max_length} characters are allowed",
    "string_pattern_mismatch": "allowed: {meaning}",
}


_PATTERNS = {
    "^[ABCD]*$": "the letters of yarns, A to D, one for each stitch",
    "^#[0-9a-f]{6}$": "a colour as # and six of 0-9 and a-f, like #c2452d",
}


def _sentence(kind: str, context: dict[str, Any], fallback: str) -> str:
    if "pattern" in context:
        context = {**context, "meaning": _PATTERNS.get(context["pattern"], context["pattern"])}
    if kind in _SENTENCES:
        return _SENTENCES[kind].format(**context)
    return fallback[:1].lower() + fallback[1:]


MOST_FAULTS = 20
"""Faults of one thing that are reported (ours). Most of the rest follow from these."""


def faults_of(error: ValidationError) -> list[Fault]:
    """The first faults that pydantic found, in a knitter's words, one per entry."""
    found: dict[str, Fault] = {}
    inner: set[str] = set()
    for item in islice(error.errors(include_url=False), MOST_FAULTS):
        where = shown(".".join(str(part) for part in item["loc"]))
        given = "" if item["type"] == "missing" or _is_container(item["input"]) else shown(item["input"])
        fault = Fault(where, given, _sentence(item["type"], item.get("ctx", {}), item["msg"]))
        found.setdefault(where, fault)
        inner.update(accumulate(where.split(".")[:-1], "{}.{}".format))
    # A list whose entries are wrong is reported as too short as well, which would only confuse.
    return [fault for where, fault in found.items() if where not in inner]
