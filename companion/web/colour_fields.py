"""Colour in the plan form: none, stripes, or a chart, typed or drawn."""

from __future__ import annotations

import re
from typing import Any

from wtforms import BooleanField, TextAreaField

from ..planning.faults import Fault
from ..planning.request import STRANDED_EASE, USUAL_EASE, PlanRequest
from .chart_text import is_stranded, read_chart, read_stripes, show_chart, show_stripes
from .forms import errors_of, typed
from .yarn_fields import YarnFields

KINDS = {
    "none": ("one colour", "The leg is plain knitting in yarn A."),
    "stripes": ("stripes", "Rounds of one yarn each; the other waits where the round begins."),
    "chart": ("a chart", "Two or more yarns in a round; the one not in use lies behind, and the leg stretches less."),
}
"""By the values of the field: the name in a sentence, and what it means for the knitting (common practice)."""

_ROW = re.compile(r"leg\.chart\.rows\.(\d+)\Z")


class ColourFields(YarnFields):
    """Which colours the leg has. The chart's text is what counts; the editor on the page writes it."""

    colour_kinds = KINDS
    colour_pattern = typed("Colour")
    stripes = typed("Stripes")
    chart = TextAreaField("Chart")
    swap = BooleanField("The second sock exchanges yarns A and B")

    def chart_field(self) -> str:
        """The field that says what the colours are."""
        kind = self.colour_pattern.data
        return kind if kind in ("stripes", "chart") else "colour_pattern"

    def chart_rows(self) -> list[str] | None:
        """The rows that are typed, None for plain knitting.

        Raises ValueError with a sentence for the knitter when they cannot be read.
        """
        match self.colour_pattern.data:
            case "stripes":
                return read_stripes(self.stripes.data or "")
            case "chart":
                return read_chart(self.chart.data or "")
            case None | "" | "none":
                return None
            case _:
                raise ValueError(f"allowed: {', '.join(KINDS)}")

    def put_colour(self, data: dict[str, Any]) -> None:
        """Put yarns and chart into a request's data; what is wrong is told at its field."""
        if (yarns := self.yarns_data()) != [{"key": "A"}]:
            data["yarns"] = yarns
        if chart := self.chart_data():
            data.setdefault("leg", {})["chart"] = chart

    def chart_data(self) -> dict[str, Any] | None:
        """The chart as the request has it, None for plain knitting; what is wrong is told at its field."""
        errors = errors_of(self[self.chart_field()])
        try:
            rows = self.chart_rows()
        except ValueError as error:
            errors.append(str(error))
            return None
        if rows is None:
            return None
        used = set("".join(rows)) & set("ABCD")
        if missing := sorted(used - set(self.keys_used())):
            errors.append(f"there is no yarn {' or '.join(missing)}; choose more yarns under Yarn")
            return None
        swap = bool(self.swap.data)
        if swap and "B" not in self.keys_used():
            errors_of(self.swap).append("there is no yarn B to exchange; choose more yarns under Yarn")
            return None
        return {"width": len(rows[0]), "rows": rows, "swap": swap}

    def take_chart_fault(self, fault: Fault) -> bool:
        """Put a fault of the request's chart beside its field; False when it is about something else."""
        if not f"{fault.where}.".startswith("leg.chart."):
            return False
        row = _ROW.match(fault.where)
        if not self[self.chart_field()].errors:
            told = f"round {int(row[1]) + 1}: {fault.message}" if row else fault.message
            errors_of(self[self.chart_field()]).append(told)
        return True

    def usual_ease(self) -> float:
        """Percent smaller than the foot when nothing else is typed."""
        try:
            return STRANDED_EASE if is_stranded(self.chart_rows() or ()) else USUAL_EASE
        except ValueError:
            return USUAL_EASE


def colour_values(request: PlanRequest) -> dict[str, Any]:
    """What stands in the fields for a request."""
    chart = request.leg.chart
    if chart is None:
        return {"colour_pattern": "none", "stripes": "", "chart": "", "swap": ""}
    kind = "stripes" if chart.width == 1 else "chart"
    return {
        "colour_pattern": kind,
        "stripes": show_stripes(chart.rows) if kind == "stripes" else "",
        "chart": show_chart(chart.rows) if kind == "chart" else "",
        "swap": chart.swap or "",
    }
