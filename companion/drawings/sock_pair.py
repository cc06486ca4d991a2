"""Two socks that differ, side by side and to one scale, each with its name and the foot that it is for."""

from __future__ import annotations

from markupsafe import Markup

from ..planning import Plan
from ..planning.fabric.chart import swaps
from ..planning.units import Unit, show_length
from .sock import LINE, WIDTH, BareSock, bare_sock

BETWEEN = 16.0
"""Room between the two socks."""

HIGHEST = 300.0
"""Height of the taller one at most: a long leg makes both smaller."""


def sock_pair_svg(one: Plan, two: Plan, unit: Unit) -> Markup:
    """The two socks of a pair whose feet differ, their names and the sizes of their feet below them."""
    socks = bare_sock(one, "-one"), bare_sock(two, "-two", exchanged=swaps(two.request))
    half = (WIDTH - BETWEEN) / 2
    scale = min(half / max(_wide(sock) for sock in socks), HIGHEST / max(_high(sock) for sock in socks))
    high = max(_high(sock) for sock in socks) * scale
    sizes_of = [_foot_sizes(plan, unit) for plan in (one, two)]
    names = [f"Sock {number}{_which(plan)}" for number, plan in enumerate((one, two), start=1)]
    drawn = Markup("").join(
        _placed(sock, scale, number * (half + BETWEEN), high) for number, sock in enumerate(socks)
    ) + Markup("").join(
        _words(number * (half + BETWEEN), high, (names[number], *sizes)) for number, sizes in enumerate(sizes_of)
    )
    return Markup(
        '<svg viewBox="0 0 {:.0f} {:.0f}" role="img" aria-labelledby="pair-title pair-description">'
        '<title id="pair-title">Both socks from the side, to one scale</title>'
        '<desc id="pair-description">{}.</desc>{}</svg>'
    ).format(
        WIDTH,
        high + 3.5 * LINE,
        "; ".join(f"{name}: {', '.join(sizes)}" for name, sizes in zip(names, sizes_of, strict=True)),
        drawn,
    )


def _wide(sock: BareSock) -> float:
    """In cm, as the height is."""
    return sock.wide / sock.scale


def _high(sock: BareSock) -> float:
    return sock.high / sock.scale


def _which(plan: Plan) -> str:
    """The foot that a sock is for, where its toe is shaped to one."""
    construction = plan.request.construction
    return f", {construction.toe}" if construction.for_one_foot else ""


def _foot_sizes(plan: Plan, unit: Unit) -> tuple[str, str]:
    sizes = plan.sizes
    return (
        f"foot {show_length(sizes.foot_length_cm, unit)} long",
        f"{show_length(sizes.foot_circumference_cm, unit)} round",
    )


def _placed(sock: BareSock, scale: float, x: float, low: float) -> Markup:
    """A sock with its sole on a line."""
    part = scale / sock.scale
    return Markup('<g transform="translate({:.1f} {:.1f}) scale({:.4f}) translate({:.1f} {:.1f})">{}</g>').format(
        x, low - sock.high * part, part, -sock.left, -sock.top, sock.parts
    )


def _words(x: float, low: float, lines: tuple[str, ...]) -> Markup:
    """A name and a sentence about it, below a line."""
    return Markup("").join(
        Markup('<text class="{}" x="{:.1f}" y="{:.1f}">{}</text>').format(
            "sock-name" if down else "sock-size", x, low + (down + 1.1) * LINE, text
        )
        for down, text in enumerate(lines)
    )
