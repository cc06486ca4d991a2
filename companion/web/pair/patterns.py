"""The written pattern as a page that prints well, as Markdown and as plain text: of a pair, and graded of a design."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from flask import Blueprint, Response, abort, render_template, request, url_for
from flask.typing import ResponseReturnValue

from ...pair.pattern_shown import WantedPattern, pattern_of_pair, pattern_shown
from ...planning import CannotKnitError, make_plan
from ...planning.construction.design_sections import notes_by_section
from ...planning.pattern.left_handed import left_handed
from ...planning.pattern.pattern import Pattern, Size, size_name
from ...planning.pattern.render import as_markdown_text, as_text
from ...planning.plan.design import request_for
from ...planning.units import show_length
from ...words import sentence
from ..group.followed_design import followed_design, photo_addresses, photos_by_section
from ..group.open_design import Ways, led_design, ways_asked
from ..group.ranges import Ranges, ranges_asked
from ..open_pair import OpenPair, open_pair
from ..request_args import left_handed_asked, unit_asked
from ..server.unchanged import unless_unchanged

TEXT, MARKDOWN = "text/plain; charset=utf-8", "text/markdown; charset=utf-8"

bp = Blueprint("patterns", __name__)


def wanted_of_pair(pair: OpenPair, link: str) -> WantedPattern:
    """The plan of a pair with its leader's notes and photos."""
    plan = pair.plan(1)
    led = followed_design(pair)
    notes = notes_by_section(led.design, plan) if led else {}
    photos = photo_addresses(led.photos, plan, f"/pair/{link}") if led else {}
    return pattern_of_pair(pair, unit_asked(pair.unit), notes, photos)


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
    """The pattern as a page."""
    query = request.query_string.decode()
    return render_template("pair/pattern.html", **pattern_shown(asked), query=f"?{query}" if query else "", **more)


def _as(media_type: str, writer: Callable[[Pattern], str], asked: WantedPattern) -> Response:
    written = writer(asked.pattern())
    return Response(left_handed(written) if left_handed_asked() else written, content_type=media_type)


@bp.get("/pair/<link>/pattern")
@unless_unchanged(token=True)
def of_pair(link: str) -> ResponseReturnValue:
    """The written pattern of a pair."""
    asked = wanted_of_pair(open_pair(link), link)
    return _page(asked, back=url_for("pages.plan", link=link), here=url_for("patterns.of_pair", link=link))


@bp.get("/pair/<link>/pattern.md")
@unless_unchanged(token=False)
def of_pair_in_markdown(link: str) -> ResponseReturnValue:
    """The same in Markdown."""
    return _as(MARKDOWN, as_markdown_text, wanted_of_pair(open_pair(link), link))


@bp.get("/pair/<link>/pattern.txt")
@unless_unchanged(token=False)
def of_pair_in_text(link: str) -> ResponseReturnValue:
    """The same as plain text."""
    return _as(TEXT, as_text, wanted_of_pair(open_pair(link), link))


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
    """The sizes for a file, where there is no room to say what is wrong."""
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
