"""The gauge check form: what was counted over which length, at up to three spots."""

from __future__ import annotations

from typing import Any

from wtforms import HiddenField

from ..planning.check import Spot
from ..planning.faults import Fault
from ..planning.units import Unit
from .forms import (
    GAUGE_OVER_CM,
    Kind,
    UnitForm,
    changed_unit,
    errors_of,
    from_typed,
    outside,
    to_typed,
    typed,
)

SPOTS = (1, 2, 3)
WHAT = ("stitches", "rounds")


class CheckForm(UnitForm):
    """What was counted. `revision` is the plan that the check was worked out from, once it was."""

    stitches_1, stitches_2, stitches_3 = typed("Stitches"), typed("Stitches"), typed("Stitches")
    stitches_over_1, stitches_over_2, stitches_over_3 = typed("across"), typed("across"), typed("across")
    rounds_1, rounds_2, rounds_3 = typed("Rounds"), typed("Rounds"), typed("Rounds")
    rounds_over_1, rounds_over_2, rounds_over_3 = typed("up"), typed("up"), typed("up")
    revision = HiddenField()

    def check_data(self) -> dict[str, list[dict[str, float]]]:
        """The check as the planning takes it. What is not a number or not allowed is told at its field."""
        return {what: [spot for number in SPOTS if (spot := self._spot(what, number))] for what in WHAT}

    def _spot(self, what: str, number: int) -> dict[str, float] | None:
        name, over = f"{what}_{number}", f"{what}_over_{number}"
        if not self[name].data:
            return None
        count = self._number(name, "count", "number")
        length = self._number(over, "over_cm", "length")
        return None if count is None or length is None else {"count": count, "over_cm": length}

    def _number(self, name: str, key: str, kind: Kind) -> float | None:
        unit = self.shown_unit()
        try:
            value = from_typed(self[name].data or "", kind, unit)
        except ValueError as error:
            errors_of(self[name]).append(str(error))
            return None
        if refusal := outside(value, Spot.model_fields[key], kind, unit):
            errors_of(self[name]).append(refusal)
            return None
        return value

    def take_fault(self, fault: Fault) -> list[str]:
        """Put a fault of the check beside its field; returns it when it belongs to none."""
        if fault.where not in WHAT:
            return [fault.message if not fault.where else str(fault)]
        first = next((number for number in SPOTS if self[f"{fault.where}_{number}"].data), SPOTS[0])
        errors_of(self[f"{fault.where}_{first}"]).append(f"{fault.given}: {fault.message}")
        return []

    def take_unit(self) -> bool:
        """Turn the lengths to the chosen unit if the page was in another; returns whether it was."""
        before: Unit = "in" if self.typed_unit.data == "in" else "cm"
        after = self.shown_unit()
        if not self.typed_unit.data or before == after:
            return False
        for name in _LENGTHS:
            self[name].data = changed_unit(self[name].data or "", "length", before, after)
        self.typed_unit.data = after
        return True


_LENGTHS = [f"{what}_over_{number}" for what in WHAT for number in SPOTS]


def first_values(unit: Unit) -> dict[str, Any]:
    """What stands in the form at first: nothing counted yet, over the usual length."""
    over = to_typed(GAUGE_OVER_CM[unit], "length", unit)
    return {"unit": unit, "typed_unit": unit, **dict.fromkeys(_LENGTHS, over)}
