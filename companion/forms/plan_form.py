"""The plan form, and how it becomes a plan request and back."""

from __future__ import annotations

from functools import reduce
from operator import attrgetter
from typing import Any, get_args

from wtforms import BooleanField, Field, HiddenField, RadioField, SelectField
from wtforms.validators import ValidationError

from ..planning import PlanRequest, read_request
from ..planning.construction.construction_words import ROUNDS_BETWEEN, WAYS
from ..planning.fit.feet import LONG_LEG_CM, SMALL_WOMANS_CM
from ..planning.fit.leg_heights import ADULTS_FOOT_CM, HEIGHTS, LEAST_CUFF_CM, LEAST_LEG_CM, Height, lengths_of
from ..planning.plan.design import USUAL_FOOT, USUAL_GAUGE
from ..planning.request.construction import Construction
from ..planning.request.cuff import Edge
from ..planning.request.plan_request import (
    STRANDED_EASE,
    USUAL_EASE,
    Arrangement,
    Basis,
    FootPattern,
    Yarn,
    usual_length_ease,
)
from ..planning.units import Unit
from .body_fields import MISSING, BodyFields, number_for, put, wheres
from .colour_fields import ColourFields, colour_values
from .shoe_size import shoe_values
from .typed_fields import typed
from .yarn_fields import yarn_values

WORDS = {
    "title": "title",
    "basis": "gauge.basis",
    **{name: f"construction.{name}" for name in Construction.model_fields},
    "rib": "cuff.rib",
    "cuff_edge": "cuff.edge",
    "leg_until": "leg.until",
    "foot_pattern": "foot_pattern",
    "cuff_yarn": "parts.cuff",
    "heel_yarn": "parts.heel",
    "toe_yarn": "parts.toe",
    "thread_heel": "reinforcing_thread.heel",
    "thread_toe": "reinforcing_thread.toe",
    "arrangement": "needles.arrangement",
    "two_at_a_time": "needles.two_at_a_time",
}

BASES: dict[Basis, str] = {"ball band": "ball band", "swatch": "swatch", "measured": "knitted sock"}
"""What a gauge was counted on, in the words of the form."""


EDGES: dict[Edge, str] = {
    "any stretchy": "any stretchy one",
    "twisted": "twisted: stretches far",
    "tubular": "tubular: rounded, for k1 p1 or k2 p2",
    "folded hem": "folded hem: smooth and double above the ribbing",
    "picot hem": "picot hem: the same, its edge in small points",
}
"""The edges of a cuff, in the words of the form."""


def _ways(part: str, label: str) -> RadioField:
    """A field for an entry whose words have names, and suit something."""
    return RadioField(
        label, choices=lambda: [(word, way.name) for word, way in WAYS[part].items()], validate_choice=False
    )


def _is_a_height(_form: PlanForm, field: Field) -> None:
    if field.data and field.data not in HEIGHTS:
        raise ValidationError(f"allowed: {', '.join(HEIGHTS)}")


class PlanForm(BodyFields, ColourFields):
    """The plan form."""

    adults_foot_cm, small_womans_cm = ADULTS_FOOT_CM, SMALL_WOMANS_CM
    least_leg_cm, least_cuff_cm = LEAST_LEG_CM, LEAST_CUFF_CM

    title = typed("Name of the pair")
    basis = SelectField("Counted on", choices=lambda: list(BASES.items()), validate_choice=False)
    ease_percent = number_for("Smaller than the foot, in percent", "ease.circumference_percent", "number")
    length_ease = number_for("Shorter than the foot", "ease.length_cm", "length")
    direction = _ways("direction", "Direction")
    heel = _ways("heel", "Heel")
    toe = _ways("toe", "Toe")
    turn = _ways("turn", "Heel turn")
    flap = _ways("flap", "Back of the heel")
    garter_edge = BooleanField("Garter edge")
    short_rows = _ways("short_rows", "Short rows")
    sole = _ways("sole", "Sole")
    sole_from_heel = BooleanField("From the heel on")
    toe_start = _ways("toe_start", "Cast-on of the toe")
    rounds_between = SelectField(
        "Rounds between the halves of the heel",
        choices=lambda: [*ROUNDS_BETWEEN.items()],
        coerce=lambda given: {str(count): count for count in ROUNDS_BETWEEN}.get(str(given), given),
        validate_choice=False,
    )
    rib = typed("Ribbing")
    cuff_edge = SelectField("Edge of the cuff", choices=lambda: list(EDGES.items()), validate_choice=False)
    cuff_length = number_for("Cuff", "cuff.length_cm", "length")
    leg_length = number_for("Leg below the cuff", "leg.length_cm", "length")
    leg_height = SelectField(
        "Height", [_is_a_height], choices=lambda: [("", ""), *((name, name) for name in HEIGHTS)], validate_choice=False
    )
    leg_until = _ways("leg_until", "The leg goes on")
    foot_pattern = SelectField("Top of the foot", choices=get_args(FootPattern), validate_choice=False)
    arrangement = SelectField("Needles", choices=get_args(Arrangement), validate_choice=False)
    two_at_a_time = BooleanField("Two at a time")
    needle_mm = number_for("Needle size in mm", "needles.size_mm", "number")
    choice = HiddenField("Stitches round the leg")

    def request_data(self) -> dict[str, Any]:
        """The plan request that the form asks for. What is not a number or not allowed is said at its field."""
        self.validate()
        data: dict[str, Any] = {"foot": {}, "gauge": {}}
        for name, where in WORDS.items():
            if name in self and self[name].data and not self._hidden(name):
                put(data, where, self[name].data)
        self.put_body(data)
        self._put_height(data)
        self.put_colour(data)
        return data

    def _put_height(self, data: dict[str, Any]) -> None:
        """Put leg and cuff of the height that was chosen by name into the data, whatever stands in their own fields."""
        if self.leg_height.data in HEIGHTS:
            foot = data["foot"].get("length_cm", USUAL_FOOT.length_cm)
            leg, cuff = lengths_of(self.leg_height.data, foot)
            put(data, "leg.length_cm", leg)
            put(data, "cuff.length_cm", cuff)

    @property
    def heights(self) -> dict[str, Height]:
        """The heights by their names, for what is said of them and for what they fill in."""
        return {**HEIGHTS}

    def request_asked(self, before: PlanRequest | None = None) -> tuple[PlanRequest | None, list[str]]:
        """The request that the form asks for, or what is wrong with it beside its fields and in sentences.

        A number that still stands as the form was filled in from the request `before` is exactly the one of that.
        """
        data = self.request_data()
        if name := name_after(self.yarns[0].yarn_name.data or ""):
            data.setdefault("title", name)
        if before:
            self._put_untouched(data, before)
        request, faults = read_request(data)
        others = self.take_faults(faults)
        return (None if others or self.refused() else request), others

    def _put_untouched(self, data: dict[str, Any], before: PlanRequest) -> None:
        """What is shown of a number is rounded: where it was not touched the number itself goes into the data again."""
        stood = PlanForm(data=form_values(before, self.shown_unit()))
        for field in self.numbers():
            if field.where and field.value is not None and field.data == stood[field.name].data:
                put(data, field.where, attrgetter(field.where)(before))
        if (pattern := before.leg.stitch_pattern) and "stitch_pattern" in data.get("leg", {}):
            for entry, field in self.counted_in_pattern().items():
                if field.value is not None and field.data == stood[field.name].data:
                    put(data, f"leg.stitch_pattern.{entry}", getattr(pattern, entry))
        self._put_height(data)
        yarns = {yarn.key: yarn for yarn in before.yarns}
        for asked, row, then in zip(data.get("yarns", ()), self.yarns, stood.yarns, strict=False):
            if yarn := yarns.get(asked["key"]):
                untouched = (name for name in row.values() if row[name].data == then[name].data)
                asked.update({name: getattr(yarn, name) for name in untouched})

    def up_the_calf_cm(self) -> float:
        """The length from which on a leg reaches the calf."""
        return LONG_LEG_CM

    def _hidden(self, name: str) -> bool:
        """Whether a question does not arise: only from the toe up can the leg go on until the yarn is used."""
        return name == "leg_until" and self.direction.data != "toe-up"

    def places(self) -> dict[str, Field | None]:
        """The fields by the entries of the request that they fill."""
        words: dict[str, Field | None] = {where: self[name] for name, where in WORDS.items() if name in self}
        patterns = {"leg.chart.width": self[self.chart_field()], **self.pattern_places()}
        words |= {"cuff": self.cuff_edge, "construction": self.toe_start}
        return {**super().places(), **words, **self.yarn_places(), **patterns}

    def only_incomplete(self) -> bool:
        """Whether nothing is wrong but that needed numbers are missing."""
        return all(error == MISSING for field in self.refused() for error in field.errors)


def name_after(yarn: str) -> str:
    """The name of a pair after its yarn, by the words after the last comma; none where the yarn has no name of its own.

    "Heather socks" for "four-ply, heather".
    """
    name = yarn.rpartition(",")[2].strip()
    return f"{name[0].upper()}{name[1:]} socks" if name and yarn != Yarn().name else ""


def form_values(request: PlanRequest, unit: Unit) -> dict[str, Any]:
    """What stands in the form for a request. The usual ease is left to the planning, which knows what is usual."""
    asked = WORDS | wheres(PlanForm)
    values: dict[str, Any] = {name: reduce(getattr, where.split("."), request) for name, where in asked.items()}
    if request.ease.circumference_percent == (STRANDED_EASE if request.stranded else USUAL_EASE):
        values["ease_percent"] = ""
    if request.ease.length_cm == usual_length_ease(request.foot.length_cm):
        values["length_ease"] = ""
    values |= shoe_values(request.foot.shoe_size) | yarn_values(request.yarns) | colour_values(request)
    return values | {"unit": unit, "typed_unit": unit}


def first_values(unit: Unit) -> dict[str, Any]:
    """What stands in the form at first: the planning's own values, the foot and the gauge left empty."""
    values = form_values(PlanRequest(foot=USUAL_FOOT, gauge=USUAL_GAUGE), unit)
    return values | dict.fromkeys((*wheres(BodyFields), "title"), "")
