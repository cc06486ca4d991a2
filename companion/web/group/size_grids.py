"""The leader's size grid: many feet by several gauges, to read, to print and to copy."""

from __future__ import annotations

from functools import lru_cache

from flask import Blueprint, Response, abort, render_template, request, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from ...planning.pattern.size_grid import grid_of, table_of
from ...planning.pattern.tables import Table, as_csv, as_html, as_markdown
from ...planning.plan.design import USUAL_FOOT, USUAL_GAUGE, Design, request_for
from ...planning.request.foot import Foot
from ...planning.request.plan_request import Gauge
from ...planning.units import Unit
from ..pair.patterns import MARKDOWN
from .open_design import Ways, led_design, ways_asked
from .ranges import Ranges, ranges_asked

CSV = "text/csv; charset=utf-8"

bp = Blueprint("size_grids", __name__)


@lru_cache(maxsize=64)
def _table(document: str, feet: tuple[Foot, ...], gauges: tuple[Gauge, ...], unit: Unit) -> Table:
    design = request_for(Design.model_validate_json(document), USUAL_FOOT, USUAL_GAUGE)
    return table_of(grid_of(design, feet, gauges), unit)


def size_table(design: Design, feet: tuple[Foot, ...], gauges: tuple[Gauge, ...], unit: Unit) -> Table:
    """The size grid of a design. It takes a plan for each cell, so that it is kept for whoever asks for it again."""
    return _table(design.sock_alone().model_dump_json(), feet, gauges, unit)


def _asked(link: str) -> tuple[Ways, Table, Ranges]:
    ways = ways_asked(led_design(link).design)
    ranges = ranges_asked(few=False)
    return ways, size_table(ways.design, ranges.feet, ranges.gauges, ranges.unit), ranges


@bp.get("/design/<link>/sizes")
def grid(link: str) -> ResponseReturnValue:
    """The size grid of a design for the feet and gauges that the address names."""
    ways, table, ranges = _asked(link)
    query = request.query_string.decode()
    page = render_template(
        "group/size_grid.html",
        design=ways.design,
        ways=ways,
        table=Markup(as_html(table)),
        copies={"HTML": as_html(table), "Markdown": as_markdown(table), "CSV": as_csv(table)},
        unit=ranges.unit,
        query=f"?{query}" if query else "",
        back=url_for("designs.lead", link=link),
        here=url_for("size_grids.grid", link=link),
        ranges=ranges,
        faults=ranges.faults,
    )
    return page, 422 if ranges.faults else 200


def _sound(link: str) -> Table:
    _, table, ranges = _asked(link)
    if ranges.faults:
        abort(400, ". ".join(ranges.faults))
    return table


@bp.get("/design/<link>/sizes.csv")
def grid_in_csv(link: str) -> ResponseReturnValue:
    """The same as comma-separated values."""
    return Response(as_csv(_sound(link)), content_type=CSV)


@bp.get("/design/<link>/sizes.md")
def grid_in_markdown(link: str) -> ResponseReturnValue:
    """The same in Markdown."""
    return Response(as_markdown(_sound(link)), content_type=MARKDOWN)
