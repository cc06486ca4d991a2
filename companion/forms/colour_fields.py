"""The pattern of the leg in the plan form: none, a stitch pattern, stripes, or a chart, typed or drawn."""

from __future__ import annotations

from typing import Any

from pydantic import ValidationError as NoChartError
from wtforms import BooleanField, Field, TextAreaField
from wtforms.validators import ValidationError

from ..planning import PlanRequest
from ..planning.faults import faults_of
from ..planning.request.plan_request import STRANDED_EASE, USUAL_EASE, Chart
from .chart_text import is_stranded, read_chart, read_stripes, show_chart, show_stripes
from .pattern_fields import PatternFields, pattern_values
from .typed_fields import typed
from .yarn_fields import YarnFields

KINDS = {
    "none": ("plain", "The leg is plain knitting in yarn A."),
    "stitches": (
        "a stitch pattern",
        "Ribbing, texture, lace or cables, in stripes if wanted; the sole stays plain.",
    ),
    "stripes": ("stripes", "Rounds of one yarn each; the other waits where the round begins."),
    "chart": ("a chart", "Two or more yarns in a round; the one not in use lies behind, and the leg stretches less."),
}
"""By the values of the field: the name in a sentence, and what it means for the knitting (common practice)."""


def _rows_suit(form: ColourFields, field: Field) -> None:
    """Refuses, at the field that they are typed in, rows that make no chart or need a yarn not in use."""
    if field.name != form.chart_field():
        return
    try:
        rows = form.chart_rows() or ["A"]
        if missing := sorted((set("".join(rows)) & set("ABCD")) - set(form.keys_used())):
            raise ValidationError(f"there is no yarn {' or '.join(missing)}; choose more yarns under Yarn")
        Chart(width=len(rows[0]), rows=tuple(rows))
    except NoChartError as error:
        fault = faults_of(error)[0]
        _, _, row = fault.where.partition("rows.")
        raise ValidationError(f"round {int(row) + 1}: {fault.message}" if row else fault.message) from error
    except ValueError as error:
        raise ValidationError(str(error)) from error


def _can_swap(form: ColourFields, field: Field) -> None:
    """Refuses the exchange of a yarn not in use, where the colours of the leg are sound."""
    if field.data and form.chart_data() and "B" not in form.keys_used():
        raise ValidationError("there is no yarn B to exchange; choose more yarns under Yarn")


class ColourFields(YarnFields, PatternFields):
    """Which pattern the leg has. The chart's text is what counts; the editor on the page writes it."""

    colour_kinds = KINDS
    colour_pattern = typed("Colour", _rows_suit)
    stripes = typed("Stripes", _rows_suit)
    chart = TextAreaField("Chart", [_rows_suit])
    swap = BooleanField("The second sock exchanges yarns A and B", [_can_swap])

    def chart_field(self) -> str:
        """The field that says what the colours are."""
        kind = self.colour_pattern.data
        in_stripes = kind == "stripes" or self.has_stitches_in_stripes()
        return "stripes" if in_stripes else "chart" if kind == "chart" else "colour_pattern"

    def chart_rows(self) -> list[str] | None:
        """The rows that are typed, None for plain knitting.

        Raises ValueError with a sentence for the knitter when they cannot be read.
        """
        match self.colour_pattern.data:
            case "stripes":
                return read_stripes(self.stripes.data or "")
            case "chart":
                return read_chart(self.chart.data or "")
            case "stitches" if self.has_stitches_in_stripes():
                return read_stripes(self.stripes.data or "")
            case None | "" | "none" | "stitches":
                return None
            case _:
                raise ValueError(f"allowed: {', '.join(KINDS)}")

    def has_stitches(self) -> bool:
        """Whether the leg is to have a stitch pattern."""
        return bool(self.colour_pattern.data == "stitches")

    def has_stitches_in_stripes(self) -> bool:
        """Whether the stitch pattern of the leg is to be in stripes, which are typed then."""
        return self.has_stitches() and bool((self.stripes.data or "").strip())

    def put_colour(self, data: dict[str, Any]) -> None:
        """Put yarns, chart and stitch pattern into a request's data, once they were found valid."""
        if (yarns := self.yarns_data()) != [{"key": "A"}]:
            data["yarns"] = yarns
        if chart := self.chart_data():
            data.setdefault("leg", {})["chart"] = chart
        if pattern := self.pattern_data():
            data.setdefault("leg", {})["stitch_pattern"] = pattern

    def chart_data(self) -> dict[str, Any] | None:
        """The chart as the request has it; None for plain knitting, and where it was refused."""
        rows = None if self[self.chart_field()].errors or self.swap.errors else self.chart_rows()
        return {"width": len(rows[0]), "rows": rows, "swap": bool(self.swap.data)} if rows else None

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
        return {"colour_pattern": "none"} | pattern_values(request)
    kind, typed_rows = ("stripes", show_stripes) if chart.width == 1 else ("chart", show_chart)
    return {"colour_pattern": kind, kind: typed_rows(chart.rows), "swap": chart.swap} | pattern_values(request)
