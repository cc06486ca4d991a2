"""The gauge check form: what was counted over which length, at up to three spots."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from itertools import chain, product
from typing import Any, Literal, TypeAlias, get_args

from pydantic.fields import FieldInfo
from wtforms import Field, HiddenField, RadioField

from ..planning import Fault, read_check
from ..planning.gauge.check import Spot
from ..planning.gauge.decision import Room
from ..planning.gauge.observations import What
from ..planning.gauge.repeat import Repeat
from ..planning.recalculation.fabric_to_count import MORE_THAN_KNITTED, over_shown
from ..planning.recalculation.recalculate import FARTHEST_OFF, STRAYS
from ..planning.units import NO_NUMBER, Unit
from ..words import unbroken
from .base import UnitForm, refusal, refuse
from .rows import Row, Rows
from .typed_fields import NumberField, allowed, limits_of

SPOTS = {"_1": "", "_2": "", "_3": ""}
"""What follows the names of the fields of each spot, and their labels."""

WHAT: tuple[What, ...] = get_args(What)
CountedIn: TypeAlias = Literal["stitches", "repeats"]
"""Whether single stitches and rounds are counted, or whole repeats of them."""

Fabric: TypeAlias = Literal["plain", "pattern"]
"""What was counted on where a stitch pattern lies beside plain fabric."""

ACROSS_AND_UP: dict[What, str] = {"stitches": "Repeats across", "rounds": "Repeats up"}
"""What the fields are called that count whole repeats."""

COUNT, OVER = Spot.model_fields["count"], Spot.model_fields["over_cm"]


RULER = FieldInfo(annotation=float, ge=0.9, le=1.1)
"""What a length read off the knitter's tape is multiplied by, where she tried it along a known one."""


class SpotRow(Row):
    """What was counted at one spot."""

    stitches = NumberField("Stitches", COUNT)
    stitches_over = NumberField("across", OVER, "length", needed=NO_NUMBER)
    rounds = NumberField("Rounds", COUNT)
    rounds_over = NumberField("up", OVER, "length", needed=NO_NUMBER)

    def validate(self, extra_validators: Any = None) -> bool:  # noqa: ARG002
        """A length counts only where something was counted over it."""
        counted = [what for what in WHAT if self[what].data]
        found = [self[name].validate(self) for what in counted for name in (what, f"{what}_over")]
        return all(found)


class CheckForm(UnitForm):
    """What was counted. `entry` names the check in the logbook, so that one sent twice is kept once.

    Where the sock has a `repeat`, whole ones may be counted. The check has the stitches and rounds that they are.
    """

    counted_in = RadioField("Count in", choices=get_args(CountedIn), validate_choice=False)
    fabric = RadioField("Counted on", choices=get_args(Fabric), validate_choice=False)
    spots = Rows(SpotRow, SPOTS)
    ruler = NumberField("Tape", RULER)
    entry = HiddenField()

    def __init__(self, *arguments: Any, repeat: Repeat | None = None, **others: Any) -> None:
        super().__init__(*arguments, **others)
        in_repeats = repeat if self.counted_in.data == "repeats" else None
        self.one: dict[What, int] = {what: in_repeats.size(what) if in_repeats else 1 for what in WHAT}
        for row, what in product(self.spots if in_repeats else (), WHAT):
            row[what].rule = repeats_allowed(self.one[what])
            row[what].label.text = row[what].label.text.replace(what.capitalize(), ACROSS_AND_UP[what])

    def every_field(self) -> Iterator[Field]:
        """Each kind of number at all spots, then the next."""
        kinds = zip(*self.spots, strict=True)
        return chain((field for field in self if field is not self.spots), *kinds)

    def check_data(self) -> dict[str, Any]:
        """The check as the planning takes it, once it was found valid."""
        said = {"in_pattern": True} if self.fabric.data == "pattern" else {}
        rows = [row.form.values() for row in self.spots]
        ruler = self.ruler.value or 1.0
        return said | {
            what: [
                {"count": round(row[what] * self.one[what], 3), "over_cm": round(row[f"{what}_over"] * ruler, 3)}
                for row in rows
                if what in row
            ]
            for what in WHAT
        }

    def take_fault(self, fault: Fault) -> list[str]:
        """Put a fault of the check beside its field; returns it when it belongs to none."""
        if fault.where not in WHAT:
            return [refusal(fault.given, fault.message)]
        first = next(row for row in self.spots if row[fault.where].data)
        refuse(first[fault.where], f"{fault.given}: {fault.message}")
        return []


SHORT: dict[Unit, str] = {"cm": "5", "in": "2"}
"""A length that fits on little fabric."""


def usual_lengths(room: Room | None) -> dict[str, dict[Unit, str]]:
    """The lengths that stand in the form at first: as much as there is room for on the needles, where that is known."""
    if room is None:
        return dict.fromkeys(WHAT, SHORT)
    cm = {"stitches": room.stitches_cm, "rounds": room.rounds_cm}
    return {what: {unit: over_shown(cm[what], unit) for unit in get_args(Unit)} for what in WHAT}


def repeats_allowed(size: int) -> FieldInfo:
    """How many repeats of so many stitches or rounds a spot can have."""
    least, most = limits_of(COUNT)
    return FieldInfo(annotation=float, ge=least / size, le=most / size)


def limits(field: NumberField) -> dict[str, str]:
    """What the page needs to refuse a number as this form does, as attributes of its field: in stitches and rounds."""
    rule = COUNT if field.kind == "number" else field.rule
    least, most = limits_of(rule)
    said = {f"data-allowed-{unit}": unbroken(allowed(rule, field.kind, unit)) for unit in get_args(Unit)}
    return {"data-least": f"{least:g}", "data-most": f"{most:g}", **said}


def refusals() -> dict[str, str]:
    """What else the page says of a check that cannot be, as attributes of the form."""
    nothing, faults = read_check({})
    assert nothing is None
    return {
        "data-no-number": unbroken(NO_NUMBER),
        "data-nothing": faults[0].message,
        "data-farthest": f"{FARTHEST_OFF:g}",
        "data-strays": STRAYS,
        "data-more-than-knitted": MORE_THAN_KNITTED,
    }


def first_values(unit: Unit, room: Room | None = None) -> dict[str, Any]:
    """What stands in the form at first: nothing counted yet."""
    over = {f"{what}_over": lengths[unit] for what, lengths in usual_lengths(room).items()}
    return {
        "unit": unit,
        "typed_unit": unit,
        "counted_in": "stitches",
        "fabric": "plain",
        "entry": str(uuid.uuid4()),
        "spots": [over] * len(SPOTS),
    }
