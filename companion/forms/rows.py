"""Fields that a form has several times over: the spots of a check, the yarns of a plan, the stages of a design."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, MutableMapping
from itertools import chain, repeat
from typing import Any

from wtforms import Field, FieldList, Form, FormField
from wtforms.fields.core import UnboundField

from ..planning.units import Unit
from .typed_fields import NumberField


class Row(Form):
    """One row. `meta.whole` is the form that it is part of, `meta.number` counts the rows from 0."""

    class Meta:
        """Binds fields under names and labels that tell the row; `names` and `labels` are what is put behind them."""

        names: str
        labels: str

        def bind_field(self, form: Row, unbound: UnboundField[Field], options: MutableMapping[str, Any]) -> Field:
            """A field of the row."""
            field = unbound.bind(form=form, **{**options, "name": options["name"] + self.names, "prefix": ""})
            field.label.text += self.labels
            return field

    def values(self) -> dict[str, float]:
        """The numbers that were read, by the names of their fields in a row."""
        fields = ((name, field) for name, field in self._fields.items() if isinstance(field, NumberField))
        return {name: field.value for name, field in fields if field.value is not None}

    def shown_unit(self) -> Unit:
        """The unit of the form."""
        unit: Unit = self.meta.whole.shown_unit()
        return unit


class Rows(FieldList):  # type: ignore[type-arg] # as it runs, the class takes no argument
    """Rows that are always all there. `rows` says of each what is put behind the names of its fields and behind labels.

    Forms call their fields so that all of them can stand side by side: grams, grams_b.
    """

    _form: Any

    def __init__(self, form_class: type[Row], rows: Mapping[str, str], **others: Any) -> None:
        super().__init__(FormField(form_class), **others)
        self.rows = rows

    def process(self, formdata: Any, data: Any = None, extra_filters: Any = None) -> None:
        """Make the rows. The first ones start from the dictionaries that are given."""
        starts = chain(data or (), repeat({}))
        rows = [
            {**start, "meta": {"whole": self._form, "number": number, "names": names, "labels": labels}}
            for number, ((names, labels), start) in enumerate(zip(self.rows.items(), starts, strict=False))
        ]
        super().process(formdata, rows, extra_filters)

    def _extract_indices(self, prefix: str, formdata: Any) -> Iterable[int]:  # noqa: ARG002
        """All rows, whatever else the form that was sent may name."""
        return range(len(self.rows))

    def fields(self) -> Iterator[Field]:
        """The fields of all rows, row by row."""
        return (field for row in self for field in row)
