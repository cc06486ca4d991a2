"""The form that a leader makes a design in: the plan form without foot and gauge, with notes and stages."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Any, ClassVar
from zoneinfo import available_timezones

from wtforms import SelectField, SelectMultipleField, TextAreaField

from ..logbook import SOCKS
from ..planning.design import MOST_STAGES, PARTS, USUAL_FOOT, USUAL_GAUGE, Design, read_design, request_for
from ..planning.faults import Fault
from ..planning.units import Unit
from .body_fields import BODY
from .forms import Kind, errors_of, stripped, typed
from .plan_form import PlanForm, form_values

BODY_FIELDS = (*BODY, "basis")
"""The fields of the plan form that each follower fills in for herself."""

OTHERS = ("direction", "heel", "toe")
"""The entries of a construction of which a design may allow more than one value."""

STAGE_ROWS = range(1, MOST_STAGES + 1)
STAGE_ENTRIES = ("name", "sock", "until", "by")

ZONES: list[Any] = sorted(available_timezones() | {"UTC"})
"""The time zones that this computer knows."""


_PARTS: list[Any] = list(PARTS)
_SOCKS: list[Any] = list(map(str, SOCKS))


class DesignForm(PlanForm):
    """The design form. Each stage has a row of fields, `stage_name_1` and so on; an empty row is no stage."""

    kinds: ClassVar[dict[str, Kind]] = {name: kind for name, kind in PlanForm.kinds.items() if name not in BODY_FIELDS}

    time_zone = SelectField("Time zone", choices=ZONES, validate_choice=False)
    version = typed()

    def design_data(self) -> dict[str, Any]:
        """The design that the form asks for. What is not a number or not allowed is told at its field."""
        data = self.request_data()
        data.pop("foot", None)
        data.pop("gauge", None)
        data["constructions"] = list(self._constructions(data.pop("construction", {})))
        data["notes"] = {part: self[f"note_{part}"].data or "" for part in PARTS}
        data["time_zone"] = self.time_zone.data or "UTC"
        data["stages"] = [self._stage(row) for row in self._rows()]
        if data["time_zone"] not in ZONES:
            errors_of(self.time_zone).append("this computer does not know this time zone; choose one of the list")
        return data

    def _constructions(self, proposed: dict[str, Any]) -> Iterator[dict[str, Any]]:
        """The construction proposed, and every mixture of it with the others allowed."""
        values = [[proposed.get(name), *(self[f"also_{name}"].data or [])] for name in OTHERS]
        for mixture in product(*(dict.fromkeys(one) for one in values)):
            yield {**proposed, **{name: value for name, value in zip(OTHERS, mixture, strict=True) if value}}

    def _rows(self) -> list[int]:
        return [row for row in STAGE_ROWS if self[f"stage_name_{row}"].data or self[f"stage_by_{row}"].data]

    def _stage(self, row: int) -> dict[str, Any]:
        entries = {name: self[f"stage_{name}_{row}"].data or "" for name in STAGE_ENTRIES}
        return {**entries, "sock": 2 if entries["sock"] == "2" else 1}

    def take_faults(self, faults: list[Fault]) -> list[str]:
        """Put each fault of a design beside its field; returns those that belong to none."""
        rows = self._rows()
        mine: list[Fault] = []
        others: list[Fault] = []
        for fault in faults:
            match fault.where.split("."):
                case ["stages", number, entry] if number.isdigit() and int(number) < len(rows):
                    errors_of(self[f"stage_{entry}_{rows[int(number)]}"]).append(fault.message)
                case ["notes", part] if f"note_{part}" in self:
                    errors_of(self[f"note_{part}"]).append(fault.message)
                case ["constructions", _, entry] if entry in self:
                    errors_of(self[entry])[:] = [fault.message]
                case _:
                    (mine if fault.where else others).append(fault)
        return [*super().take_faults(mine), *map(str, others)]

    def read(self) -> tuple[Design | None, list[str]]:
        """The design, or what is wrong with it beside its fields and in sentences."""
        design, faults = read_design(self.design_data())
        others = self.take_faults(faults)
        wrong = others or any(field.errors for field in self)
        return (None if wrong else design), others


for _name in (*BODY_FIELDS, "choice", "shoe_system", "shoe_size"):
    setattr(DesignForm, _name, None)
for _name in OTHERS:
    setattr(DesignForm, f"also_{_name}", SelectMultipleField(f"Other {_name}s", validate_choice=False))
for _part in PARTS:
    setattr(DesignForm, f"note_{_part}", TextAreaField(f"{_part.capitalize()}", filters=[stripped]))
for _row in STAGE_ROWS:
    setattr(DesignForm, f"stage_name_{_row}", typed(f"Stage {_row}"))
    setattr(DesignForm, f"stage_by_{_row}", typed(f"Day of stage {_row}"))
    setattr(
        DesignForm,
        f"stage_until_{_row}",
        SelectField(f"Part of stage {_row}", choices=_PARTS, validate_choice=False),
    )
    setattr(
        DesignForm,
        f"stage_sock_{_row}",
        SelectField(f"Sock of stage {_row}", choices=_SOCKS, validate_choice=False),
    )


def design_values(design: Design, unit: Unit) -> dict[str, Any]:
    """What stands in the form for a design."""
    proposed, *more = design.constructions
    values: dict[str, Any] = form_values(request_for(design, USUAL_FOOT, USUAL_GAUGE), unit)
    for name in OTHERS:
        own = getattr(proposed, name)
        values[f"also_{name}"] = list(dict.fromkeys(getattr(one, name) for one in more if getattr(one, name) != own))
    values |= {f"note_{part}": design.notes.get(part, "") for part in PARTS}
    for row, stage in zip(STAGE_ROWS, design.stages, strict=False):
        values |= {f"stage_{name}_{row}": str(getattr(stage, name)) for name in STAGE_ENTRIES}
    return {name: value for name, value in values.items() if name not in BODY_FIELDS} | {"time_zone": design.time_zone}


def first_design(unit: Unit) -> dict[str, Any]:
    """What stands in the form at first: the planning's own values without a title."""
    return design_values(Design(), unit) | {"title": ""}
