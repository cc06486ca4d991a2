"""The gauge check form: what was counted over which length, at up to three spots."""

from __future__ import annotations

import uuid
from typing import Any

from wtforms import HiddenField

from ..planning.check import Spot
from ..planning.faults import Fault
from ..planning.units import Unit
from .forms import GAUGE_OVER_CM, UnitForm, errors_of, to_typed, typed

SPOTS = (1, 2, 3)
WHAT = ("stitches", "rounds")
LENGTHS = tuple(f"{what}_over_{number}" for what in WHAT for number in SPOTS)


class CheckForm(UnitForm):
    """What was counted. `entry` names the check in the logbook, so that one sent twice is kept once."""

    kinds = dict.fromkeys(LENGTHS, "length")

    stitches_1, stitches_2, stitches_3 = typed("Stitches"), typed("Stitches"), typed("Stitches")
    stitches_over_1, stitches_over_2, stitches_over_3 = typed("across"), typed("across"), typed("across")
    rounds_1, rounds_2, rounds_3 = typed("Rounds"), typed("Rounds"), typed("Rounds")
    rounds_over_1, rounds_over_2, rounds_over_3 = typed("up"), typed("up"), typed("up")
    entry = HiddenField()

    def check_data(self) -> dict[str, list[dict[str, float]]]:
        """The check as the planning takes it. What is not a number or not allowed is told at its field."""
        return {what: [spot for number in SPOTS if (spot := self._spot(what, number))] for what in WHAT}

    def _spot(self, what: str, number: int) -> dict[str, float] | None:
        name, over = f"{what}_{number}", f"{what}_over_{number}"
        if not self[name].data:
            return None
        count = self.number(name, "number", Spot.model_fields["count"])
        length = self.number(over, "length", Spot.model_fields["over_cm"])
        return None if count is None or length is None else {"count": count, "over_cm": length}

    def take_fault(self, fault: Fault) -> list[str]:
        """Put a fault of the check beside its field; returns it when it belongs to none."""
        if fault.where not in WHAT:
            return [fault.message if not fault.where else str(fault)]
        first = next((number for number in SPOTS if self[f"{fault.where}_{number}"].data), SPOTS[0])
        errors_of(self[f"{fault.where}_{first}"]).append(f"{fault.given}: {fault.message}")
        return []


def first_values(unit: Unit) -> dict[str, Any]:
    """What stands in the form at first: nothing counted yet, over the usual length."""
    over = to_typed(GAUGE_OVER_CM[unit], "length", unit)
    return {"unit": unit, "typed_unit": unit, "entry": str(uuid.uuid4()), **dict.fromkeys(LENGTHS, over)}
