"""The stitch pattern in the plan form: one that is ready to choose, or rows as they are typed."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError as NoPatternError
from wtforms import Field, Form, SelectField, TextAreaField
from wtforms.validators import ValidationError

from ..planning import PlanRequest
from ..planning.faults import faults_of
from ..planning.request.stitch_pattern import MOST_LETTERS, Placement, StitchPattern
from ..planning.stitches.labels import MOST_ROUNDS
from ..planning.stitches.operations import OpName
from ..planning.stitches.reading import read_row
from ..planning.stitches.ready import READY
from ..planning.stitches.repeat import drawn_rounds
from ..planning.stitches.words import ReadingError
from .typed_fields import NumberField, typed

OWN = "rows of my own"
"""The choice of a pattern that is typed."""

CHOICES = [(name, f"{name}: {ready.like}", {"data-rows": "\n".join(ready.rows)}) for name, ready in READY.items()]
"""Those that are ready, each with its rows, so that a knitter can change them into her own."""


WHERE = {
    "all round": "all round the leg",
    "front": "a panel on the front",
    "front and back": "a panel on front and back",
}
"""Where a pattern lies on the leg, in the words of the form."""


def typed_rows(text: str) -> list[str]:
    """The rows of a pattern as they are typed, without empty lines."""
    return list(filter(None, map(str.strip, text.splitlines())))


def rows_to_draw(text: str) -> list[list[OpName]]:
    """The rounds of typed rows for their chart, balanced or not, by the names of what is worked.

    Raises ValueError with a sentence for the knitter where they cannot be drawn.
    """
    rows = typed_rows(text)
    if not rows:
        raise ValueError("the rows are missing; type one line for each, or draw them")
    if len(rows) > MOST_ROUNDS:
        raise ValueError(f"{len(rows)} rows, and a repeat may have {MOST_ROUNDS} rounds; type one repeat only")
    for number, row in enumerate(map(str.strip, text.splitlines()), start=1):
        if not row:
            continue
        if len(row) > MOST_LETTERS:
            raise ValueError(f"line {number} has {len(row)} letters, and may have {MOST_LETTERS}; type one repeat only")
        try:
            read_row(row)
        except ReadingError as error:
            raise ValueError(f"line {number}, {error}") from error
    return [list(names) for names in drawn_rounds(rows)]


def _rows_are_read(form: PatternFields, field: Field) -> None:
    """Refuses, at the field that they are typed in, rows that make no repeat."""
    if form.has_stitches() and form.stitch_pattern.data == OWN:
        try:
            StitchPattern.model_validate(form.typed_pattern())
        except NoPatternError as error:
            fault = faults_of(error)[0]
            _, _, row = fault.where.partition("rows.")
            message = f"row {int(row) + 1}, {fault.message}" if row else fault.message
            raise ValidationError(message if field.data else "the rows are missing; type one line for each") from error


def _is_ready(form: PatternFields, field: Field) -> None:
    if form.has_stitches() and field.data not in {*READY, OWN}:
        raise ValidationError(f"allowed: {', '.join(READY)}, or {OWN}")


class _WithStitches(NumberField):
    """A number that counts only where there is a stitch pattern."""

    def pre_validate(self, form: Any) -> None:
        self.value = None
        if form.has_stitches():
            super().pre_validate(form)


class _OfAPanel(_WithStitches):
    """A number that counts only where the pattern is a panel."""

    def pre_validate(self, form: Any) -> None:
        self.value = None
        if form.has_panel():
            super().pre_validate(form)


class PatternFields(Form):
    """Which stitch pattern the leg has, where it is to have one."""

    own_pattern = OWN
    stitch_pattern = SelectField(
        "Stitch pattern", [_is_ready], choices=lambda: [*CHOICES, (OWN, OWN, {})], validate_choice=False
    )
    pattern_name = typed("Its name")
    pattern_rows = TextAreaField("Rows", [_rows_are_read])
    pattern_where = SelectField("Where it lies", choices=lambda: list(WHERE.items()), validate_choice=False)
    panel_repeats = _OfAPanel("Repeats of the panel", Placement.model_fields["repeats"])
    panel_beside = typed("Beside the panel")
    ends_before_toe = _WithStitches("Ends before the toe", StitchPattern.model_fields["ends_before_toe_cm"], "length")
    pattern_stitches = _WithStitches("Stitches in pattern", StitchPattern.model_fields["stitches_per_10cm"], "gauge")
    pattern_rounds = _WithStitches("Rounds in pattern", StitchPattern.model_fields["rounds_per_10cm"], "gauge")

    def counted_in_pattern(self) -> dict[str, NumberField]:
        """The fields of the pattern's own gauge by the entries of the request that they fill."""
        return {"stitches_per_10cm": self.pattern_stitches, "rounds_per_10cm": self.pattern_rounds}

    def has_stitches(self) -> bool:
        """Whether the leg is to have a stitch pattern."""
        raise NotImplementedError

    def has_panel(self) -> bool:
        """Whether the pattern is to be a panel."""
        return self.pattern_where.data not in {None, "", "all round"}

    def typed_pattern(self) -> dict[str, Any]:
        """A pattern of her own as a request has it, read or not."""
        return {"name": self.pattern_name.data or "", "rows": typed_rows(self.pattern_rows.data or "")}

    def pattern_data(self) -> dict[str, Any] | None:
        """The stitch pattern as the request has it; None where there is none, and where it was refused."""
        if not self.has_stitches() or self.stitch_pattern.errors or self.pattern_rows.errors:
            return None
        pattern = self.typed_pattern() if self.stitch_pattern.data == OWN else {"name": self.stitch_pattern.data}
        asked: dict[str, Any] = {entry: field.value for entry, field in self.counted_in_pattern().items()}
        asked |= {"placement": self._placement(), "ends_before_toe_cm": self.ends_before_toe.value}
        return pattern | {entry: value for entry, value in asked.items() if value}

    def _placement(self) -> dict[str, Any] | None:
        """Where the pattern lies as the request has it; None all round the leg."""
        if not self.has_panel():
            return None
        repeats = self.panel_repeats.value
        asked = {"on": self.pattern_where.data, "beside": self.panel_beside.data}
        if repeats is not None:
            asked["repeats"] = int(repeats) if repeats.is_integer() else repeats
        return {entry: value for entry, value in asked.items() if value}

    def pattern_places(self) -> dict[str, Field | None]:
        """The fields by the entries of the request that they fill."""
        placed: dict[str, Field | None] = {
            "placement.on": self.pattern_where,
            "placement.repeats": self.panel_repeats,
            "placement.beside": self.panel_beside,
            "ends_before_toe_cm": self.ends_before_toe,
            **self.counted_in_pattern(),
        }
        return {"leg.stitch_pattern": self.stitch_pattern} | {
            f"leg.stitch_pattern.{entry}": field for entry, field in placed.items()
        }


def pattern_values(request: PlanRequest) -> dict[str, Any]:
    """What stands in the fields for a request."""
    pattern = request.leg.stitch_pattern
    if pattern is None:
        return {}
    asked: dict[str, Any] = {
        "pattern_stitches": pattern.stitches_per_10cm,
        "pattern_rounds": pattern.rounds_per_10cm,
        "ends_before_toe": pattern.ends_before_toe_cm or None,
    }
    if placed := pattern.placement:
        asked |= {"pattern_where": placed.on, "panel_repeats": placed.repeats, "panel_beside": placed.beside}
    if pattern.name in READY and READY[pattern.name].rows == pattern.rows:
        return {"colour_pattern": "stitches", "stitch_pattern": pattern.name, **asked}
    return {
        "colour_pattern": "stitches",
        "stitch_pattern": OWN,
        **asked,
        "pattern_name": pattern.name,
        "pattern_rows": "\n".join(pattern.rows),
    }
