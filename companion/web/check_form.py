"""The gauge check form: what was counted over which length, at up to three spots."""

from __future__ import annotations

import uuid
from typing import Any, get_args

from pydantic.fields import FieldInfo
from wtforms import HiddenField

from ..planning.check import Spot, read_check
from ..planning.faults import Fault
from ..planning.recalculation import FARTHEST_OFF, STRAYS
from ..planning.units import NO_NUMBER, Unit
from .forms import GAUGE_OVER_CM, Kind, UnitForm, allowed, errors_of, limits_of, to_typed, typed

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


def limits() -> dict[str, dict[str, str]]:
    """For each field what the page needs to refuse a number as this form does, as attributes of it."""
    found: dict[str, dict[str, str]] = {}
    for what in WHAT:
        for number in SPOTS:
            found[f"{what}_{number}"] = _limits(Spot.model_fields["count"], "number")
            found[f"{what}_over_{number}"] = _limits(Spot.model_fields["over_cm"], "length")
    return found


def _limits(field: FieldInfo, kind: Kind) -> dict[str, str]:
    least, most = limits_of(field)
    said = {f"data-allowed-{unit}": allowed(field, kind, unit) for unit in get_args(Unit)}
    return {"data-least": f"{least:g}", "data-most": f"{most:g}", **said}


def refusals() -> dict[str, str]:
    """What else the page says of a check that cannot be, as attributes of the form."""
    nothing, faults = read_check({})
    assert nothing is None
    return {
        "data-no-number": NO_NUMBER,
        "data-nothing": faults[0].message,
        "data-farthest": f"{FARTHEST_OFF:g}",
        "data-strays": STRAYS,
    }


def first_values(unit: Unit) -> dict[str, Any]:
    """What stands in the form at first: nothing counted yet, over the usual length."""
    over = to_typed(GAUGE_OVER_CM[unit], "length", unit)
    return {"unit": unit, "typed_unit": unit, "entry": str(uuid.uuid4()), **dict.fromkeys(LENGTHS, over)}
