"""The form that a leader makes a design in: the plan form without foot and gauge, with notes and stages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice, product
from typing import Any, get_args
from zoneinfo import available_timezones

from wtforms import BooleanField, Field, SelectField, SelectMultipleField, TextAreaField
from wtforms.validators import AnyOf

from ..pair.logbook import SOCKS
from ..planning import Fault
from ..planning.construction.constructions import HEELS, TOES
from ..planning.plan.design import MOST_STAGES, USUAL_FOOT, USUAL_GAUGE, Design, OwnPart, read_design, request_for
from ..planning.plan.document import PARTS_OF_SOCK, PartOfSock
from ..planning.units import Unit
from .base import refuse
from .body_fields import BodyFields, wheres
from .plan_form import PlanForm, form_values, name_after
from .rows import Row, Rows
from .typed_fields import stripped, typed
from .widgets import Select

BODY_FIELDS = (*wheres(BodyFields), "basis")
"""The fields of the plan form that each follower fills in for herself."""

OTHERS = ("direction", "heel", "toe")
"""The entries of a construction that may have more than one value in a design."""

MOST_WAYS = 1 + max(len(HEELS), len(TOES))
"""Values of one entry: each that there is, and one that does not exist."""

OWN_PARTS: dict[OwnPart, str] = {
    "needles": "needles",
    "leg length": "length of the leg; who says nothing gets yours, and a child's foot a shorter one",
    "ease": "ease",
    "yarn": "yarn",
}
"""What a leader may leave to each follower, in the words of the form."""

ZONES: list[Any] = sorted(available_timezones() | {"UTC"})
"""The time zones that this computer knows."""

_SOCKS: list[Any] = list(map(str, SOCKS))


class StageRow(Row):
    """A stage; a row with neither name nor day is none."""

    stage_name = typed("Stage")
    stage_by = typed("Day of stage")
    stage_until = SelectField("Part of stage", choices=get_args(PartOfSock), validate_choice=False)
    stage_sock = SelectField("Sock of stage", choices=_SOCKS, validate_choice=False)

    def stage_data(self) -> dict[str, Any]:
        """The stage as the design has it."""
        entries = {name.removeprefix("stage_"): text or "" for name, text in self.data.items()}
        return {**entries, "sock": 2 if entries["sock"] == "2" else 1}


class DesignForm(PlanForm):
    """The design form."""

    time_zone = SelectField(
        "Time zone",
        [AnyOf([*ZONES, "", None], "this computer does not know this time zone; choose one of the list")],
        choices=ZONES,
        validate_choice=False,
        widget=Select(),
    )
    title = typed("Name of the design")
    leader = typed("Your name")
    welcome = TextAreaField("A word to those who join", filters=[stripped])
    numbers_hidden = BooleanField("Show numbers only in a plan")
    own = SelectMultipleField("Left to each follower", validate_choice=False)
    own_parts = OWN_PARTS
    version = typed()
    waiting = typed()
    reveal_on = typed("Day from which followers see it")
    stages = Rows(StageRow, {f"_{number}": f" {number}" for number in range(1, MOST_STAGES + 1)})

    def design_data(self) -> dict[str, Any]:
        """The design that the form asks for. What is not a number or not allowed is said at its field."""
        data = dict(self.request_data())
        for followers_own in ("foot", "gauge"):
            data.pop(followers_own, None)
        data["constructions"] = list(self._constructions(data.pop("construction", {})))
        data["notes"] = {part: self[f"note_{part}"].data or "" for part in PARTS_OF_SOCK}
        data |= {"own": self.own.data or [], "leader": self.leader.data or "", "welcome": self.welcome.data or ""}
        days = {part: self[f"hidden_{part}"].data for part in PARTS_OF_SOCK}
        data["hidden_until"] = {part: day for part, day in days.items() if day}
        data["numbers_hidden"] = self.numbers_hidden.data
        data["time_zone"] = self.time_zone.data or "UTC"
        data["stages"] = [row.stage_data() for row in self._stages()]
        return data

    def _constructions(self, proposed: dict[str, Any]) -> Iterator[dict[str, Any]]:
        """The construction proposed, and every mixture of it with the others allowed."""
        values = [[proposed.get(name), *(self[f"also_{name}"].data or [])] for name in OTHERS]
        # One value that does not exist is enough to report.
        for mixture in product(*(islice(dict.fromkeys(one), MOST_WAYS) for one in values)):
            yield {**proposed, **{name: value for name, value in zip(OTHERS, mixture, strict=True) if value}}

    def _stages(self) -> list[StageRow]:
        return [row.form for row in self.stages if row.stage_name.data or row.stage_by.data]

    def places(self) -> dict[str, Field | None]:
        """The fields by the entries of the design that they fill."""
        notes = {f"notes.{part}": self[f"note_{part}"] for part in PARTS_OF_SOCK}
        stages = {
            f"stages.{number}.{name.removeprefix('stage_')}": row[name]
            for number, row in enumerate(self._stages())
            for name in row.data
        }
        hidden = {f"hidden_until.{part}": self[f"hidden_{part}"] for part in PARTS_OF_SOCK}
        words = {"leader": self.leader, "welcome": self.welcome}
        return {**super().places(), **notes, **stages, **hidden, **words}

    def take_faults(self, faults: list[Fault]) -> list[str]:
        """Put each fault of a design beside its field, whichever construction it is of; returns those without one."""
        each = re.compile(r"constructions\.\d+\.")
        return super().take_faults([replace(fault, where=each.sub("construction.", fault.where)) for fault in faults])

    def read(self) -> tuple[Design | None, list[str]]:
        """The design, or what is wrong with it beside its fields and in sentences."""
        design, faults = read_design(self.design_data())
        others = self.take_faults(faults)
        return (None if others or self.refused() else design), others

    def read_named(self) -> tuple[Design | None, list[str]]:
        """The same for a design to keep, which needs a name: one after its yarn, where that has one."""
        self.title.data = self.title.data or name_after(self.yarns[0].yarn_name.data or "")
        design, faults = self.read()
        if not self.title.data:
            refuse(self.title, "a name is needed: followers know the design by it")
        return (design if self.title.data else None), faults


for _name in (*BODY_FIELDS, "choice", "shoe_system", "shoe_size"):
    setattr(DesignForm, _name, None)
for _name in OTHERS:
    setattr(DesignForm, f"also_{_name}", SelectMultipleField(f"Other {_name}s", validate_choice=False))
for _part in PARTS_OF_SOCK:
    setattr(DesignForm, f"note_{_part}", TextAreaField(f"{_part.capitalize()}", filters=[stripped]))
    setattr(DesignForm, f"hidden_{_part}", typed(f"Secret {_part}"))


def design_values(design: Design, unit: Unit) -> dict[str, Any]:
    """What stands in the form for a design."""
    proposed, *more = design.constructions
    values: dict[str, Any] = form_values(request_for(design, USUAL_FOOT, USUAL_GAUGE), unit)
    for name in OTHERS:
        own = getattr(proposed, name)
        values[f"also_{name}"] = list(dict.fromkeys(getattr(one, name) for one in more if getattr(one, name) != own))
    values |= {f"note_{part}": design.notes.get(part, "") for part in PARTS_OF_SOCK}
    values |= {f"hidden_{part}": day.isoformat() for part, day in design.hidden_until.items()}
    stages = [{f"stage_{name}": str(value) for name, value in stage.model_dump().items()} for stage in design.stages]
    words = {"leader": design.leader, "welcome": design.welcome, "own": list(design.own)}
    others = {"numbers_hidden": design.numbers_hidden, "time_zone": design.time_zone, "stages": stages}
    return values | words | others


def first_design(unit: Unit) -> dict[str, Any]:
    """What stands in the form at first: the planning's own values without a title."""
    return design_values(Design(), unit) | {"title": ""}
