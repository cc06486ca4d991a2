"""The drawing of a sock as a PNG picture, for places that show no SVG. Without words and measurements."""

from __future__ import annotations

from functools import lru_cache

from resvg_py import svg_to_bytes

from ..planning import Plan
from .sock import bare_sock

WIDTH, HEIGHT = 1200, 630
"""Pixels; the shape that previews of links have (common practice)."""

MARGIN = 60

PAPER, YARN, TAPE, INK = "#faf6ee", "#1f6a70", "#f3c94b", "#2b2f3a"

STYLE = f"""
    .sock-shape {{ fill: {YARN} }}
    .sock-shape.in-colour {{ fill: none; stroke: {INK}; stroke-width: 1.5 }}
    .sock-rib, .sock-points, .sock-border {{ fill: none; stroke: {TAPE}; stroke-width: 1.5 }}
    .sock-casing {{ fill: none; stroke: {INK}; stroke-width: 2.5 }}
"""
"""What the style sheets of the pages say otherwise: a picture has neither a theme nor a page round it."""


@lru_cache(maxsize=64)
def sock_png(plan: Plan) -> bytes:
    """The sock of a plan as a PNG file, as large as it fits in the middle, in its colours where it has several."""
    sock = bare_sock(plan)
    drawing = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}" height="{HEIGHT}">'
        f'<svg x="{MARGIN}" y="{MARGIN}" width="{WIDTH - 2 * MARGIN}" height="{HEIGHT - 2 * MARGIN}" '
        f'viewBox="{sock.left:.1f} {sock.top:.1f} {sock.wide:.1f} {sock.high:.1f}">{sock.parts}</svg></svg>'
    )
    return svg_to_bytes(drawing, background=PAPER, style_sheet=STYLE, skip_system_fonts=True)
