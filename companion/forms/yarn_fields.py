"""The yarns of the plan form: one to four, A to D, each with the same fields, and the parts that are in one of them.

A is the main colour.
"""

from __future__ import annotations

from typing import Any, get_args

from wtforms import BooleanField, Field, SelectField
from wtforms.validators import ValidationError

from ..drawings.chart import COLOURS
from ..planning.request.entries import YarnKey
from ..planning.request.plan_request import Yarn
from ..planning.request.reinforcing import ReinforcingThread
from .base import UnitForm
from .rows import Row, Rows
from .typed_fields import NumberField, typed

KEYS: tuple[str, ...] = get_args(YarnKey)
COUNTS = ("1", "2", "3", "4")
ROWS = {"" if key == KEYS[0] else f"_{key.lower()}": "" if key == KEYS[0] else f", yarn {key}" for key in KEYS}
"""What follows the names and labels of the fields of each yarn: grams is yarn A's, grams_b yarn B's."""


class YarnRow(Row):
    """What is known of one yarn."""

    yarn_name = typed("Yarn")
    yarn_colour = typed("Colour on the screen")
    metres_per_100g = NumberField("Yardage", Yarn.model_fields["metres_per_100g"], "yardage")
    grams = NumberField("Yarn at hand", Yarn.model_fields["grams"], "weight")
    colour_repeat_metres = NumberField("Colour repeat", Yarn.model_fields["colour_repeat_metres"], "colour repeat")
    nylon_percent = NumberField("Nylon in percent", Yarn.model_fields["nylon_percent"])

    def validate(self, extra_validators: Any = None) -> bool:
        """What stands at a yarn that was taken away again does not count."""
        return self.meta.number >= len(self.meta.whole.keys_used()) or super().validate(extra_validators)

    def yarn_data(self) -> dict[str, Any]:
        """The yarn as the request has it, without what is left to the planning."""
        key = KEYS[self.meta.number]
        words = {"name": self.yarn_name.data, "colour": self.yarn_colour.data}
        given = {entry: word for entry, word in words.items() if word and word != COLOURS[key]}
        return {"key": key, **given, **self.values()}


def _is_in_use(form: YarnFields, field: Field) -> None:
    """Refuses a yarn for a part that there is not."""
    if field.data and field.data not in KEYS:
        raise ValidationError(f"allowed: {', '.join(KEYS[:-1])} or {KEYS[-1]}")
    if field.data and field.data not in form.keys_used():
        raise ValidationError(f"there is no yarn {field.data}; choose more yarns under Yarn")


def _part_yarn(part: str) -> SelectField:
    """A field for the yarn of a part; it is left empty for the main one."""
    return SelectField(
        f"Yarn of the {part}",
        [_is_in_use],
        choices=lambda: [("", KEYS[0]), *((key, key) for key in KEYS[1:])],
        validate_choice=False,
    )


class YarnFields(UnitForm):
    """How many yarns there are, what is known of each, and which parts have one of their own."""

    yarn_keys = KEYS
    yarn_count = typed("Yarns")
    yarns = Rows(YarnRow, ROWS)
    cuff_yarn = _part_yarn("cuff")
    heel_yarn = _part_yarn("heel")
    toe_yarn = _part_yarn("toe")

    thread_heel = BooleanField("Heel")
    thread_toe = BooleanField("Toe")
    thread_metres = NumberField(
        "Length of the thread",
        ReinforcingThread.model_fields["metres_per_100g"],
        "yardage",
        where="reinforcing_thread.metres_per_100g",
    )

    def thread_fields(self) -> list[Field]:
        """The fields for a reinforcing thread."""
        return [self.thread_heel, self.thread_toe, self.thread_metres]

    def part_yarns(self) -> list[Field]:
        """The fields for the yarns of parts."""
        return [self.cuff_yarn, self.heel_yarn, self.toe_yarn]

    def yarn_fields(self) -> list[Field]:
        """Every field about yarn."""
        return [self.yarn_count, *self.yarns.fields(), *self.part_yarns(), *self.thread_fields()]

    def yarn_places(self) -> dict[str, Field]:
        """The fields by the entries of the request that they fill."""
        fields = ((number, name, row[name]) for number, row in enumerate(self.yarns) for name in row.data)
        return {f"yarns.{number}.{name.removeprefix('yarn_')}": field for number, name, field in fields}

    def keys_used(self) -> tuple[str, ...]:
        """The letters of the yarns in use."""
        return KEYS[: COUNTS.index(self.yarn_count.data) + 1 if self.yarn_count.data in COUNTS else 1]

    def yarns_data(self) -> list[dict[str, Any]]:
        """The yarns in use, as the request has them."""
        return [row.form.yarn_data() for row in self.yarns][: len(self.keys_used())]


def yarn_values(yarns: tuple[Yarn, ...]) -> dict[str, Any]:
    """What stands in the fields for these yarns, and what is usual for the others."""
    given: dict[str, Yarn] = {yarn.key: yarn for yarn in yarns}
    shown = [(given.get(key) or Yarn(name="")).model_dump() | {"usual": COLOURS[key]} for key in KEYS]
    rows = [{**yarn, "yarn_name": yarn["name"], "yarn_colour": yarn["colour"] or yarn["usual"]} for yarn in shown]
    return {"yarn_count": str(1 + max(KEYS.index(key) for key in given)), "yarns": rows}
