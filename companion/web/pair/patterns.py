"""The written pattern as a page that prints well, as Markdown and as plain text: of a pair, and graded of a design."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from flask import Blueprint, Response, abort, render_template, request, url_for
from flask.typing import ResponseReturnValue
from markupsafe import Markup

from ...drawings.chart import chart_svg, colours_of, yarn_square
from ...drawings.sock import sock_svg
from ...drawings.stitch_chart import stitches_shown
from ...planning import CannotKnitError, Plan, make_plan, pattern_of
from ...planning.construction.design_sections import notes_by_section
from ...planning.pattern.pattern import Pattern, Size, size_name
from ...planning.pattern.render import as_markdown_text, as_text, chart_lines
from ...planning.pattern.tables import as_html
from ...planning.plan.design import request_for
from ...planning.units import Unit, show_length
from ...words import sentence
from ..group.followed_design import leading, photo_addresses, photos_by_section
from ..group.open_design import Ways, led_design, ways_asked
from ..group.ranges import Ranges, ranges_asked
from ..open_pair import open_pair
from ..request_args import unit_asked
from ..unchanged import unless_unchanged

TEXT, MARKDOWN = "text/plain; charset=utf-8", "text/markdown; charset=utf-8"

bp = Blueprint("patterns", __name__)


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


def _pair(link: str) -> WantedPattern:
    """The plan of a pair as the only size: that of sock 1 where the socks differ, and both where the feet do."""
    pair = open_pair(link)
    unit = unit_asked(pair.unit)
    plan = pair.plan(1)
    led = leading(pair)
    notes = notes_by_section(led.design, plan) if led else {}
    photos = photo_addresses(led.photos, plan, f"/pair/{link}") if led else {}
    sizes = [Size("sock 1", plan), Size("sock 2", pair.plan(2))] if plan.request.two_feet else None
    return WantedPattern(plan.title, sizes or [Size(size_name(plan, unit), plan)], unit, notes, photos)


@dataclass(frozen=True)
class Graded:
    """A design in each size that it can be knitted in, how it is made, the ranges asked for, and what is wrong."""

    wanted: WantedPattern
    ways: Ways
    ranges: Ranges
    faults: list[str]


def _design(link: str) -> Graded:
    opened = led_design(link)
    ways = ways_asked(opened.design)
    design = ways.design
    ranges = ranges_asked(few=True)
    sizes, faults = [], [*ranges.faults]
    for foot in ranges.feet:
        try:
            plan = make_plan(request_for(design, foot, ranges.gauges[0]))
        except CannotKnitError as error:
            ball = show_length(foot.ball_circumference_cm, ranges.unit)
            faults.append(f"{ball} round: {sentence(error.fault.message)}")
        else:
            sizes.append(Size(size_name(plan, ranges.unit), plan))
    notes = {key: note for size in sizes for key, note in notes_by_section(design, size.plan).items()}
    photos = photos_by_section(opened)
    addresses = photo_addresses(photos, sizes[0].plan, f"/design/{link}") if sizes else {}
    return Graded(WantedPattern(design.title, sizes, ranges.unit, notes, addresses), ways, ranges, faults)


def _page(asked: WantedPattern, **more: object) -> str:
    """The pattern as a page; the drawing is of the size in the middle. Without any size there is only what is wrong."""
    sizes, unit = asked.sizes, asked.unit
    drawn = sizes[len(sizes) // 2] if sizes else None
    pattern = asked.pattern() if sizes else None
    query = request.query_string.decode()
    return render_template(
        "pair/pattern.html",
        title=asked.title,
        pattern=pattern,
        photos=asked.photos,
        chart_svg=_chart(drawn.plan) if drawn else "",
        chart_key=_key(drawn.plan) if drawn else [],
        chart_rows=list(chart_lines(pattern.chart)) if pattern and pattern.chart else [],
        stitches=stitches_shown(pattern.stitch_pattern) if pattern else None,
        measurements=Markup(as_html(pattern.measurements)) if pattern else "",
        drawn=drawn.name if drawn else "",
        drawing_svg=sock_svg(drawn.plan, unit) if drawn else "",
        unit=unit,
        query=f"?{query}" if query else "",
        **more,
    )


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


def _as(media_type: str, writer: Callable[[Pattern], str], asked: WantedPattern) -> Response:
    return Response(writer(asked.pattern()), content_type=media_type)


@bp.get("/pair/<link>/pattern")
@unless_unchanged(token=True)
def of_pair(link: str) -> ResponseReturnValue:
    """The written pattern of a pair."""
    asked = _pair(link)
    return _page(asked, back=url_for("pages.plan", link=link), here=url_for("patterns.of_pair", link=link))


@bp.get("/pair/<link>/pattern.md")
@unless_unchanged(token=False)
def of_pair_in_markdown(link: str) -> ResponseReturnValue:
    """The same in Markdown."""
    return _as(MARKDOWN, as_markdown_text, _pair(link))


@bp.get("/pair/<link>/pattern.txt")
@unless_unchanged(token=False)
def of_pair_in_text(link: str) -> ResponseReturnValue:
    """The same as plain text."""
    return _as(TEXT, as_text, _pair(link))


@bp.get("/design/<link>/pattern")
def of_design(link: str) -> ResponseReturnValue:
    """The pattern of a design, graded for the feet that the address names."""
    graded = _design(link)
    page = _page(
        graded.wanted,
        back=url_for("designs.lead", link=link),
        here=url_for("patterns.of_design", link=link),
        ways=graded.ways,
        ranges=graded.ranges,
        faults=graded.faults,
    )
    return page, 422 if graded.faults else 200


def _sound_design(link: str) -> WantedPattern:
    """The sizes for a file, in which there is no room to say what is wrong."""
    graded = _design(link)
    if graded.faults:
        abort(400, " ".join(map(sentence, graded.faults)))
    return graded.wanted


@bp.get("/design/<link>/pattern.md")
def of_design_in_markdown(link: str) -> ResponseReturnValue:
    """The same in Markdown."""
    return _as(MARKDOWN, as_markdown_text, _sound_design(link))


@bp.get("/design/<link>/pattern.txt")
def of_design_in_text(link: str) -> ResponseReturnValue:
    """The same as plain text."""
    return _as(TEXT, as_text, _sound_design(link))
