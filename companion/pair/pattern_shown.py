"""What the page of a written pattern says. Pure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from markupsafe import Markup

from ..drawings.chart import chart_svg, colours_of, yarn_square
from ..drawings.either_hand import for_either_hand
from ..drawings.sock import sock_svg
from ..drawings.stitch_chart import stitches_shown, swatch_shown
from ..planning import Plan, pattern_of
from ..planning.pattern.pattern import Pattern, Size, size_name
from ..planning.pattern.render import chart_lines
from ..planning.pattern.tables import as_html
from ..planning.units import Unit
from .state import PairState


@dataclass(frozen=True)
class WantedPattern:
    """What a pattern is asked for: title, sizes, a unit for lengths, and the leader's notes and photos by section."""

    title: str
    sizes: Sequence[Size]
    unit: Unit
    notes: Mapping[str, str]
    photos: Mapping[str, str]

    def pattern(self) -> Pattern:
        """The pattern."""
        return pattern_of(self.sizes, self.unit, self.notes)


def pattern_of_pair(pair: PairState, unit: Unit, notes: Mapping[str, str], photos: Mapping[str, str]) -> WantedPattern:
    """The plan of a pair as the only size: that of sock 1 where the socks differ, and both where the feet do."""
    plan = pair.plan(1)
    sizes = [Size("sock 1", plan), Size("sock 2", pair.plan(2))] if plan.request.two_feet else None
    return WantedPattern(plan.title, sizes or [Size(size_name(plan, unit), plan)], unit, notes, photos)


def pattern_shown(asked: WantedPattern) -> dict[str, Any]:
    """The words of the page; the drawing is of the size in the middle. Without any size there are none."""
    sizes, unit = asked.sizes, asked.unit
    drawn = sizes[len(sizes) // 2] if sizes else None
    pattern = asked.pattern() if sizes else None
    return {
        "title": asked.title,
        "pattern": pattern,
        "photos": asked.photos,
        "chart_svg": _chart(drawn.plan) if drawn else "",
        "chart_key": _key(drawn.plan) if drawn else [],
        "chart_rows": list(chart_lines(pattern.chart)) if pattern and pattern.chart else [],
        "stitches": stitches_shown(pattern.stitch_pattern) if pattern else None,
        "swatch": swatch_shown(pattern.swatch) if pattern else None,
        "measurements": Markup(as_html(pattern.measurements)) if pattern else "",
        "drawn": drawn.name if drawn else "",
        "drawing_svg": for_either_hand(partial(sock_svg, unit=unit), drawn.plan) if drawn else "",
        "unit": unit,
    }


def _chart(plan: Plan) -> Markup:
    """The chart of a plan, drawn; nothing where it has none."""
    chart = plan.request.leg.chart
    if chart is None:
        return Markup("")
    return chart_svg(chart.rows, colours_of(plan.request.yarns), "The chart, of which the rows are described below")


def _key(plan: Plan) -> list[tuple[Markup, str]]:
    """The chart's key: a square of each yarn, and what it stands for."""
    colours = colours_of(plan.request.yarns)
    return [(yarn_square(yarn.key, colours[yarn.key]), f"{yarn.key}: {yarn.name}") for yarn in plan.request.yarns]
