"""The colours of a sock as it lies flat: the main yarn, the chart where it is knitted, and parts in their own yarns."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple, Protocol

from markupsafe import Markup

from ..planning import Plan
from ..planning.construction.constructions import built
from ..planning.construction.sections.leg import LEG
from ..planning.fabric.chart import EXCHANGE
from ..planning.fabric.painter import beside_the_instep, rounds_in_all
from ..planning.pattern.striped import stripe_of
from ..planning.plan.document import Round
from ..planning.request.entries import YarnKey
from ..planning.request.part_yarns import OwnPart
from .chart import colours_of
from .outline import Outline

SOLE_WIDTH = 12
"""Stitches after which two, three and four yarns in turn begin together again."""


class Pen(Protocol):
    """Puts centimetres on the drawing."""

    @property
    def scale(self) -> float:
        """Units of the drawing for each cm."""

    @property
    def exchanged(self) -> bool:
        """Whether yarns A and B are exchanged."""

    @property
    def of(self) -> str:
        """What tells the ids from those of other socks on the page."""

    def at(self, x: float, y: float) -> str:
        """A point in cm as path coordinates."""


class Fabric(NamedTuple):
    """Chart rows as they lie: where they begin, how they are turned, and the size of a stitch, in cm and degrees.

    `start` is the point at the middle of a repeat where the row numbered `row` begins to grow.
    """

    name: str
    rows: Sequence[str]
    start: tuple[float, float]
    row: int
    turned: int
    stitch: tuple[float, float]


Corners = tuple[tuple[float, float], ...]


class Region(NamedTuple):
    """A part of the sock, as the corners of its outline in cm, filled with the fabric of this name."""

    fabric: str
    corners: Corners


def colour_parts(plan: Plan, sock: Outline, pen: Pen, shape: str) -> Markup:
    """The sock's outline `shape` (path data) filled in the colours of its yarns."""
    colours = colours_of(plan.request.yarns)
    of = pen.of
    if pen.exchanged:
        colours = {key: colours[key.translate(EXCHANGE)] for key in colours}
    fabrics, regions = _parts(plan, sock)
    main = colours[plan.request.yarns[0].key]
    return Markup('<defs><clipPath id="sock-inside{4}"><path d="{0}"/></clipPath>{1}</defs>{2}{3}').format(
        shape,
        Markup("").join(_pattern(fabric._replace(name=fabric.name + of), colours, pen) for fabric in fabrics),
        Markup('<path class="sock-yarn" d="{}" fill="{}"/>').format(shape, main),
        Markup("").join(
            [
                *(_filled(f"url(#{region.fabric}{of})", region.corners, pen, of) for region in regions),
                *(_filled(colours[key], _corners(sock)[part], pen, of) for part, key in own_yarns(plan).items()),
            ]
        ),
        of,
    )


def own_yarns(plan: Plan) -> dict[OwnPart, YarnKey]:
    """The yarns of cuff, heel and toe where they are not the main one."""
    return {part: key for part, key in plan.request.parts.given().items() if key != plan.request.yarns[0].key}


def _corners(sock: Outline) -> dict[OwnPart, Corners]:
    """The parts that may have a yarn of their own; what reaches beyond the sock is cut off."""
    heel = ((0.0, sock.heel_top), (sock.side, sock.heel_top), (sock.side, sock.flap_end), (sock.heel_front, sock.sole))
    start, end = sock.toe_start, sock.length
    return {
        "cuff": ((0.0, 0.0), (sock.top_wide, 0.0), (sock.top_wide, sock.cuff_end), (0.0, sock.cuff_end)),
        "heel": (*heel, (0.0, sock.sole)),
        "toe": ((start, sock.instep), (end, sock.instep), (end, sock.sole), (start, sock.sole)),
    }


def _filled(fill: str, corners: Corners, pen: Pen, of: str) -> Markup:
    return Markup('<path class="sock-fabric" clip-path="url(#sock-inside{})" fill="{}" d="M{}Z"/>').format(
        of, fill, "L".join(pen.at(x, y) for x, y in corners)
    )


def _parts(plan: Plan, sock: Outline) -> tuple[list[Fabric], list[Region]]:
    chart = plan.request.leg.chart
    leg = [item for section, part in built(plan) if part is LEG for item in section.rounds()]
    foot = [item for section, part in built(plan) if part.of in ("gusset", "foot") for item in section.rounds()]
    if chart is None or not _charted(leg):
        return [], []
    up = plan.request.construction.direction == "toe-up"
    high = (sock.leg_end - sock.cuff_end) / len(leg)
    size = (plan.sizes.leg_cm / plan.sizes.leg_stitches, high)
    turned = 0 if up else 180
    first, last = _charted(leg)[0], _charted(leg)[-1] + 1
    top, bottom = sock.cuff_end + high * first, sock.cuff_end + high * last
    if up:
        top, bottom = sock.leg_end - high * last, sock.leg_end - high * first
    start = (sock.leg_wide, bottom if up else top)
    fabrics = [Fabric("leg-fabric", chart.rows, start, _row_of(plan, leg[first]), turned, size)]
    sides = ((sock.wide_at(top), top), (sock.wide_at(bottom), bottom))
    regions = [Region("leg-fabric", ((0, top), *sides, (0, bottom)))]
    if on_foot := _charted(foot):
        begins = sock.toe_start if up else sock.toe_start - high * len(on_foot)
        wide = plan.sizes.foot_circumference_cm / plan.sizes.foot_stitches
        number = _row_of(plan, foot[on_foot[0]])
        turns = [beside_the_instep(plan.request, each) for each in range(1, rounds_in_all(plan.request) + 1)]
        sole = [yarns * (SOLE_WIDTH // len(yarns)) for yarns in turns]
        place = ((begins, sock.instep), number, turned - 90, (wide, high))
        fabrics += [Fabric("instep-fabric", chart.rows, *place), Fabric("sole-fabric", sole, *place)]
        regions += _foot_regions(sock)
    return fabrics, regions


def _row_of(plan: Plan, item: Round) -> int:
    """The row of the chart, from 1, that a round has; under stripes the rounds have those of their stitch pattern."""
    chart = plan.request.leg.charted
    return (item.chart_row if chart else stripe_of(plan, item)) or 1


def _charted(rounds: Sequence[Round]) -> list[int]:
    """The places of the rounds that are knitted from the chart."""
    return [place for place, item in enumerate(rounds) if item.chart_row]


def _foot_regions(sock: Outline) -> list[Region]:
    """Instep, and sole with gusset; they meet at the side of the foot."""
    side, meet = (sock.side, sock.leg_end), (sock.gusset_end, sock.middle)
    end = sock.toe_start
    front = (sock.leg_wide, sock.leg_end)
    instep = (side, front, (sock.leg_wide, 0.0), (end, 0.0), (end, sock.middle), meet)
    sole = (side, meet, (end, sock.middle), (end, sock.sole), (sock.heel_front, sock.sole), (sock.side, sock.flap_end))
    return [Region("instep-fabric", instep), Region("sole-fabric", sole)]


def _pattern(fabric: Fabric, colours: Mapping[str, str], pen: Pen) -> Markup:
    """One repeat that fills whatever refers to it."""
    wide, high = (size * pen.scale for size in fabric.stitch)
    width, height = len(fabric.rows[0]) * wide, len(fabric.rows) * high
    below = height - (fabric.row - 1) * high
    tiles = (_tile(fabric.rows, key, wide, high, colour) for key, colour in colours.items())
    return Markup(
        '<pattern id="{}" patternUnits="userSpaceOnUse" width="{:.3f}" height="{:.3f}" '
        'patternTransform="translate({}) rotate({}) translate({:.3f} {:.3f})">{}</pattern>'
    ).format(
        fabric.name,
        width,
        height,
        pen.at(*fabric.start),
        fabric.turned,
        -width / 2,
        -below,
        Markup("").join(tiles),
    )


def _tile(rows: Sequence[str], key: str, wide: float, high: float, colour: str) -> Markup:
    way = "".join(_runs(rows, key, wide, high))
    return Markup('<path d="{}" fill="{}"/>').format(way, colour) if way else Markup("")


def _runs(rows: Sequence[str], key: str, wide: float, high: float) -> Iterable[str]:
    for number, row in enumerate(rows, start=1):
        for run in re.finditer(f"{key}+", row):
            across = len(run[0]) * wide
            top = (len(rows) - number) * high
            yield f"M{run.start() * wide:.3f} {top:.3f}h{across:.3f}v{high:.3f}h-{across:.3f}z"
