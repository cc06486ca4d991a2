"""What the forms share: fields that follow one unit, also those of rows, and what is said of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

from wtforms import Field, Form, HiddenField, RadioField

from ..planning.faults import shown
from ..planning.units import Unit
from ..words import sentence
from .rows import Rows
from .typed_fields import NumberField, changed_unit


class UnitForm(Form):
    """A form whose lengths are all in one unit.

    `typed_unit` is the unit that the page was made in. A form sent with another `unit` comes from a browser
    without scripts, where the knitter wants the page in that unit.
    """

    # The first field, as those that are filled in with numbers ask for it.
    unit = RadioField("Lengths", choices=get_args(Unit), default="cm", validate_choice=False)
    typed_unit = HiddenField()

    def shown_unit(self) -> Unit:
        """The unit chosen, cm when it is not one that we know."""
        return "in" if self.unit.data == "in" else "cm"

    def every_field(self) -> Iterator[Field]:
        """The fields in the order in which they are reported, those of rows one by one."""
        for field in self:
            yield from field.fields() if isinstance(field, Rows) else [field]

    def numbers(self) -> Iterator[NumberField]:
        """The fields that take a number."""
        return (field for field in self.every_field() if isinstance(field, NumberField))

    def refused(self) -> list[Field]:
        """The fields with something wrong."""
        return [field for field in self.every_field() if field.errors]

    def problem(self, field: Field) -> str:
        """What is wrong with a field, after what was typed there; what was chosen, or a whole chart, is in sight."""
        given = shown(field.data or "") if field.type in ("StringField", "NumberField") else ""
        return refusal(given, *field.errors)

    def take_unit(self) -> bool:
        """Turn the numbers to the chosen unit if the page was in another; returns whether it was."""
        before: Unit = "in" if self.typed_unit.data == "in" else "cm"
        after = self.shown_unit()
        if not self.typed_unit.data or before == after:
            return False
        for field in self.numbers():
            field.data = changed_unit(field.data or "", field.kind, before, after)
        self.typed_unit.data = after
        return True


def refusal(given: str, *reasons: str) -> str:
    """What is wrong with something that was typed or given, in whole sentences."""
    return " ".join([*([f"You typed “{given}”."] if given else []), *map(sentence, reasons)])


def refuse(field: Field, sentence: str) -> None:
    """Add what the planning has found wrong to what is said at a field."""
    field.errors = [*field.errors, sentence]
