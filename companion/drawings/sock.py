"""The sock of a plan as it lies flat, seen from the side and to scale, as an SVG drawing with its measurements."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from markupsafe import Markup

from ..planning import Plan
from ..planning.construction.sizes import round_the_top
from ..planning.units import Unit, show_length
from .outline import BEND_CM, Outline, outline_of
from .sock_colours import colour_parts, own_yarns

WIDTH = 360.0
"""Width of the drawing in its own units; letters are 14 of them high, so that a phone 320 px wide can show it."""

LEFT, RIGHT, TOP, BOTTOM = 98.0, 14.0, 40.0, 66.0
"""Room for the measurements round the sock."""

LETTER, LINE = 7.0, 16.0
"""Width of a letter and height of a line, roughly."""

TALLEST = 460.0
"""Height at which a long leg makes the scale smaller."""


PICOT_CM = 0.4
"""How high the points of a picot hem are drawn."""

HEEL_PASS = 0.3
"""Where round the heel the arrow of the heel pass begins: near its tip, but beside the seam that may end there."""


@dataclass(frozen=True)
class Pen:
    """Puts centimetres on the drawing. `cased` lines lie on a lighter one, so that they show on colours.

    Yarns A and B may be `exchanged`. `of` tells the ids from those of other socks on the page.
    """

    scale: float
    cased: bool = False
    exchanged: bool = False
    of: str = ""

    def at(self, x: float, y: float) -> str:
        """A point in cm as path coordinates."""
        return f"{LEFT + x * self.scale:.1f} {TOP + y * self.scale:.1f}"

    def line(self, kind: str, *points: tuple[float, float]) -> Markup:
        """A line through points in cm."""
        way = "M" + "L".join(self.at(x, y) for x, y in points)
        return self._casing(way) + Markup('<path class="{}" d="{}"/>').format(kind, way)

    def arrow(self, start: tuple[float, float], end: tuple[float, float]) -> Markup:
        """A measurement from one point to another, in cm."""
        way = f"M{self.at(*start)}L{self.at(*end)}"
        return self._casing(way) + Markup(
            '<path class="sock-arrow" marker-start="url(#sock-tip)" marker-end="url(#sock-tip)" d="{}"/>'
        ).format(way)

    def _casing(self, way: str) -> Markup:
        return Markup('<path class="sock-casing" d="{}"/>').format(way) if self.cased else Markup("")

    def text(self, kind: str, x: float, y: float, words: str, down: float = 5) -> Markup:
        """Words at a point in cm, `down` units lower so that they stand centred on it."""
        return Markup('<text class="{}" x="{:.1f}" y="{:.1f}">{}</text>').format(
            kind, LEFT + x * self.scale, TOP + y * self.scale + down, words
        )


def _shape(sock: Outline, pen: Pen) -> str:
    """The sock's outline as path data."""
    front, bend = sock.ankle
    after = min(front + BEND_CM, sock.toe_start)
    level = max(after, sock.gusset_end)
    below = bend + (sock.instep - bend) * (after - front) / (level - front)
    upper = "L".join(pen.at(x, sock.middle - above) for x, above, _ in sock.toe)
    lower = "L".join(pen.at(x, sock.middle + below) for x, _, below in reversed(sock.toe))
    return (
        f"M{pen.at(0, 0)}L{pen.at(sock.top_wide, 0)}L{pen.at(sock.top_wide, sock.cuff_end)}"
        f"L{pen.at(front, max(bend - BEND_CM, sock.cuff_end))}Q{pen.at(front, bend)} {pen.at(after, below)}"
        f"L{pen.at(level, sock.instep)}L{pen.at(sock.toe_start, sock.instep)}"
        f"L{upper}L{lower}"
        f"L{pen.at(sock.toe_start, sock.sole)}L{pen.at(sock.heel_front, sock.sole)}"
        f"Q{pen.at(0, sock.sole)} {pen.at(0, sock.rounding)}Z"
    )


def _sock(plan: Plan, sock: Outline, pen: Pen) -> Markup:
    """The sock itself: as a line drawing, or in its colours where it has more than one."""
    way = _shape(sock, pen)
    if not pen.cased:
        return Markup('<path class="sock-shape" d="{}"/>').format(way)
    colours = colour_parts(plan, sock, pen, way)
    return colours + Markup('<path class="sock-shape in-colour" d="{}"/>').format(way)


def _ribbing(sock: Outline, pen: Pen) -> Iterable[Markup]:
    ribs = max(4, round(sock.top_wide * pen.scale / 8))
    for number in range(1, ribs):
        x = sock.top_wide * number / ribs
        yield replace(pen, cased=False).line("sock-rib", (x, sock.hem_end), (x, sock.cuff_end))


def _points(plan: Plan, sock: Outline, pen: Pen) -> Iterable[Markup]:
    """The points along the edge of a picot hem."""
    if plan.request.cuff.edge == "picot hem":
        points = max(8, round(sock.top_wide * pen.scale / 8)) * 2
        low = min(sock.hem_end, PICOT_CM)
        way = ((sock.top_wide * number / points, low * (number % 2)) for number in range(points + 1))
        yield replace(pen, cased=False).line("sock-points", *way)


def _borders(sock: Outline, pen: Pen) -> Iterable[Markup]:
    """Where one part meets the next. The instep begins at the side of the leg and ends at the side of the foot."""
    side, top, flap = sock.side, sock.heel_top, sock.flap_end
    yield pen.line("sock-border", (0, sock.cuff_end), (sock.top_wide, sock.cuff_end))
    if top > sock.leg_end:
        yield pen.line("sock-border", (0, sock.leg_end), (side, sock.leg_end), (side, top))
    yield pen.line("sock-border", (0, top), (side, top), (side, flap), (sock.heel_front, sock.sole))
    seam = sock.round_the_heel(0.5) if sock.mitred else (0.0, flap)
    yield pen.line("sock-border", (side, flap), seam)
    yield pen.line("sock-border", (side, sock.leg_end), (sock.gusset_end, sock.middle), (sock.gusset_end, sock.sole))
    yield pen.line("sock-border", (sock.toe_start, sock.instep), (sock.toe_start, sock.sole))


def _names(plan: Plan, sock: Outline, pen: Pen) -> Iterable[Markup]:
    """Each part's name inside it, where there is room; the narrow gusset's is turned, the turn's stands beside it.

    A part in a yarn of its own has the letter of that behind its name.
    """
    side = sock.side
    own = {f"{part}": f" {key}" for part, key in own_yarns(plan).items()}
    heel = sock.heel_end - sock.flap_end if sock.mitred else 0
    back = "turn" if sock.turned_up else "flap"
    for part, x, y, wide, high in (
        ("cuff", sock.top_wide / 2, sock.cuff_end / 2, sock.top_wide, sock.cuff_end),
        ("leg", side, (sock.cuff_end + sock.leg_end) / 2, sock.leg_wide, sock.leg_end - sock.cuff_end),
        (back, side / 2, sock.heel_top * 0.7 + sock.flap_end * 0.3, side, sock.flap_end - sock.heel_top),
        ("heel", side * 0.65, sock.heel_top + heel * 0.65, side, heel),
        ("foot", (sock.gusset_end + sock.toe_start) / 2, sock.middle, sock.toe_start - sock.gusset_end, sock.foot_wide),
        ("toe", (sock.toe_start + sock.length) / 2, sock.middle, sock.length - sock.toe_start, sock.foot_wide),
    ):
        words = part + own.get("heel" if part == back else part, "")
        if wide * pen.scale > LETTER * len(words) and high * pen.scale > LINE:
            yield pen.text("sock-name inside middle", x, y, words)
    if not sock.mitred and not sock.turned_up:
        turn = "turn" + own.get("heel", "")
        yield pen.text("sock-name end", -6 / pen.scale, (sock.flap_end + sock.sole) / 2, turn)
    on_leg, on_foot = sock.heel_top - sock.leg_end, sock.gusset_end - sock.heel_front
    if on_leg > 2 * on_foot:
        yield pen.text("sock-name inside middle", side / 2, (sock.leg_end + sock.heel_top) / 2, "gusset")
    elif on_foot > 0:
        x = (max(side, sock.heel_front) + sock.gusset_end) / 2
        yield Markup(
            '<text class="sock-name inside middle" transform="translate({}) rotate(-90)" y="5">gusset</text>'
        ).format(pen.at(x, (sock.middle + sock.sole) / 2))


def _shown(length: float, unit: Unit) -> str:
    """A difference of two places on the sock, without what subtracting floats adds to it."""
    return show_length(round(length, 6), unit)


def _heights(sock: Outline, pen: Pen, unit: Unit) -> Iterable[Markup]:
    x = -10 / pen.scale
    lowest = -LINE / pen.scale
    for _, start, end in sock.back:
        lowest = max((start + end) / 2, lowest + LINE / pen.scale)
        yield pen.arrow((x, start), (x, end))
        yield pen.text("sock-size end", x - 5 / pen.scale, lowest, _shown(end - start, unit))


def _lengths(sock: Outline, pen: Pen, unit: Unit) -> Iterable[Markup]:
    for row, (_, start, end) in zip((16, 16, 44), sock.bottom, strict=True):
        y = sock.sole + row / pen.scale
        yield pen.arrow((start, y), (end, y))
        yield pen.text("sock-size middle", (start + end) / 2, y, _shown(end - start, unit), down=16)


def _widths(plan: Plan, sock: Outline, pen: Pen, unit: Unit) -> Iterable[Markup]:
    y = -12 / pen.scale
    yield pen.arrow((0, y), (sock.top_wide, y))
    yield pen.text("sock-size", 0, y, f"{show_length(round_the_top(plan), unit)} round", down=-8)
    yield from _above_the_heel(plan, sock, pen, unit)

    front, bend = sock.ankle
    yield pen.arrow(sock.round_the_heel(HEEL_PASS), (front, bend))
    above = max(bend, (36 + 2 * LINE - TOP) / pen.scale)
    words = max(front, sock.wide_at(above - (36 + 2 * LINE) / pen.scale)) + 12 / pen.scale
    yield pen.text("sock-name", words, above, "heel pass", down=-36 - LINE)
    yield pen.text("sock-size", words, above, f"{show_length(plan.sizes.heel_pass_cm, unit)} round", down=-36)

    x = sock.toe_start - 14 / pen.scale
    yield pen.arrow((x, sock.instep), (x, sock.sole))
    words = min(sock.length + 40 / pen.scale, (WIDTH - LEFT - 2) / pen.scale)
    yield pen.text(
        "sock-size end", words, sock.instep, f"{show_length(plan.sizes.foot_circumference_cm, unit)} round", down=-9
    )


def _above_the_heel(plan: Plan, sock: Outline, pen: Pen, unit: Unit) -> Iterable[Markup]:
    """Round the leg above the heel, where that is another width than at the top and there is room to say so."""
    y = sock.leg_end - 10 / pen.scale
    if sock.top_wide != sock.leg_wide and (sock.leg_end - sock.cuff_end) * pen.scale > 6 * LINE:
        yield pen.arrow((0, y), (sock.leg_wide, y))
        yield pen.text("sock-size middle", sock.side, y, show_length(plan.sizes.leg_cm, unit), down=-8 - LINE)
        yield pen.text("sock-size middle", sock.side, y, "round", down=-8)


def _describe_sizes(plan: Plan, sock: Outline, unit: Unit) -> str:
    """What the drawing measures, for those who do not see it."""
    along = [f"{name} {_shown(end - start, unit)}" for name, start, end in (*sock.back, *sock.bottom)]
    sizes = plan.sizes
    top = {"top of the leg": round_the_top(plan)} if sock.top_wide != sock.leg_wide else {}
    about = {**top, "leg": sizes.leg_cm, "foot": sizes.foot_circumference_cm, "heel": sizes.heel_pass_cm}
    around = (f"round the {part} {show_length(size, unit)}" for part, size in about.items())
    yarns = (f"{part} in yarn {key}" for part, key in own_yarns(plan).items())
    foot = plan.request.construction
    toe = [f"the toe is for the {foot.toe}, seen from above"] * foot.for_one_foot
    return "; ".join([*along, *around, *yarns, *toe])


def _pen(plan: Plan, sock: Outline) -> Pen:
    scale = min((WIDTH - LEFT - RIGHT) / sock.widest, TALLEST / sock.sole)
    return Pen(scale, cased=plan.request.leg.chart is not None or bool(own_yarns(plan)))


def sock_svg(plan: Plan, unit: Unit) -> Markup:
    """The sock of a plan with its lengths in the unit; coloured by the style sheet's `sock-` classes."""
    sock = outline_of(plan)
    pen = _pen(plan, sock)
    height = TOP + sock.sole * pen.scale + BOTTOM
    parts = Markup("").join(
        [
            _sock(plan, sock, pen),
            *_ribbing(sock, pen),
            *_points(plan, sock, pen),
            *_borders(sock, pen),
            *_heights(sock, pen, unit),
            *_lengths(sock, pen, unit),
            *_widths(plan, sock, pen, unit),
            *_names(plan, sock, pen),
        ]
    )
    return Markup(
        '<svg viewBox="0 0 {:.0f} {:.0f}" role="img" aria-labelledby="sock-title sock-description">'
        '<title id="sock-title">The sock from the side</title><desc id="sock-description">{}.</desc>'
        '<defs><marker id="sock-tip" viewBox="0 0 8 8" refX="7.5" refY="4" markerWidth="8" markerHeight="8" '
        'markerUnits="userSpaceOnUse" orient="auto-start-reverse"><path class="sock-tip" d="M0 0L8 4L0 8Z"/>'
        "</marker></defs>"
        "{}</svg>"
    ).format(WIDTH, height, _describe_sizes(plan, sock, unit), parts)


EDGE = 4
"""Room for the outline round a sock without measurements."""


@dataclass(frozen=True)
class BareSock:
    """A sock without measurements: its parts, where in the drawing they lie, and the scale in its units a cm."""

    parts: Markup
    left: float
    top: float
    wide: float
    high: float
    scale: float


def bare_sock(plan: Plan, of: str = "", *, exchanged: bool = False) -> BareSock:
    """The sock of a plan without its measurements, yarns A and B perhaps `exchanged`.

    `of` tells its ids from those of other socks on the page.
    """
    sock = outline_of(plan)
    pen = replace(_pen(plan, sock), exchanged=exchanged, of=of)
    drawn = _sock(plan, sock, pen)
    return BareSock(
        parts=Markup("").join([drawn, *_ribbing(sock, pen), *_points(plan, sock, pen), *_borders(sock, pen)]),
        left=LEFT - EDGE,
        top=TOP - EDGE,
        wide=sock.widest * pen.scale + 2 * EDGE,
        high=sock.sole * pen.scale + 2 * EDGE,
        scale=pen.scale,
    )


def second_sock_svg(plan: Plan) -> Markup:
    """The second sock of a pair that exchanges its colours; it measures the same as the first."""
    second = bare_sock(plan, "-2", exchanged=True)
    return _bare_svg(second, "second-sock-title", "The second sock, with yarns A and B exchanged")


def bare_sock_svg(plan: Plan) -> Markup:
    """The sock of a plan without its measurements, for those whose foot nobody has measured yet."""
    return _bare_svg(bare_sock(plan), "sock-title", "The sock from the side")


def _bare_svg(sock: BareSock, name: str, title: str) -> Markup:
    return Markup(
        '<svg viewBox="{:.1f} {:.1f} {:.1f} {:.1f}" width="{:.0f}" role="img" aria-labelledby="{}">'
        '<title id="{}">{}</title>{}</svg>'
    ).format(sock.left, sock.top, sock.wide, sock.high, sock.wide, name, name, title, sock.parts)
