"""The yarns of the plan form: one to four, A to D, each with the same fields. A is the main colour."""

from __future__ import annotations

from typing import Any, get_args

from ..planning.request import Yarn, YarnKey
from .chart_drawing import COLOURS
from .forms import UnitForm, to_typed, typed

KEYS: tuple[str, ...] = get_args(YarnKey)
COUNTS = ("1", "2", "3", "4")
TEXTS = {"name": "yarn_name", "colour": "yarn_colour"}
NUMBERS = {name: name for name in ("metres_per_100g", "grams", "nylon_percent")}
LABELS = {
    "yarn_name": "Yarn",
    "yarn_colour": "Colour on the screen",
    "metres_per_100g": "Metres in 100 g",
    "grams": "Grams at hand",
    "nylon_percent": "Nylon in percent",
}
"""What the fields are called, by the names of those of yarn A."""


def yarn_field(name: str, key: str) -> str:
    """The name of a field, given that of yarn A's: grams, grams_b, grams_c."""
    return name if key == "A" else f"{name}_{key.lower()}"


FIELD_OF = {
    f"yarns.{number}.{entry}": yarn_field(name, key)
    for number, key in enumerate(KEYS)
    for entry, name in (TEXTS | NUMBERS).items()
}
"""The fields by the entries of the request that they fill."""


class YarnFields(UnitForm):
    """How many yarns there are, and what is known of each; its other fields are added below, yarn by yarn."""

    yarn_keys = KEYS
    yarn_count = typed("Yarns")

    def yarn_fields(self) -> list[Any]:
        """Every field about yarn."""
        return [self.yarn_count, *(self[yarn_field(name, key)] for key in KEYS for name in LABELS)]

    def yarn_entries(self, key: str) -> dict[str, Any]:
        """The fields of one yarn by the names of those of yarn A."""
        return {name: self[yarn_field(name, key)] for name in LABELS}

    def keys_used(self) -> tuple[str, ...]:
        """The letters of the yarns that there are."""
        return KEYS[: COUNTS.index(self.yarn_count.data) + 1 if self.yarn_count.data in COUNTS else 1]

    def yarns_data(self) -> list[dict[str, Any]]:
        """The yarns as the request has them, without what is left to the planning."""
        found = []
        for key in self.keys_used():
            yarn: dict[str, Any] = {}
            for entry, name in TEXTS.items():
                value = self[yarn_field(name, key)].data
                if value and value != COLOURS[key]:
                    yarn[entry] = value
            for entry, name in NUMBERS.items():
                field = yarn_field(name, key)
                number = self.number(field, "number", Yarn.model_fields[entry]) if self[field].data else None
                if number is not None:
                    yarn[entry] = number
            found.append({"key": key, **yarn})
        return found


for _key in KEYS:
    for _name, _label in LABELS.items():
        _field = yarn_field(_name, _key)
        setattr(YarnFields, _field, typed(_label if _key == "A" else f"{_label}, yarn {_key}"))


def yarn_values(yarns: tuple[Yarn, ...]) -> dict[str, str]:
    """What stands in the fields for these yarns; for those that there are not, what is usual."""
    given: dict[str, Yarn] = {yarn.key: yarn for yarn in yarns}
    values = {"yarn_count": str(1 + max(KEYS.index(key) for key in given))}
    for key in KEYS:
        yarn = given.get(key) or Yarn(name="")
        values[yarn_field("yarn_name", key)] = yarn.name
        values[yarn_field("yarn_colour", key)] = yarn.colour or COLOURS[key]
        for entry, name in NUMBERS.items():
            values[yarn_field(name, key)] = to_typed(getattr(yarn, entry), "number", "cm")
    return values
