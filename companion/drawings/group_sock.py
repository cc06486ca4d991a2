"""The sock of a design with a mark for each follower where she is, as SVG."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from markupsafe import Markup

from ..planning import Plan
from ..planning.plan.document import PartOfSock
from .outline import Outline, outline_of
from .sock import EDGE, bare_sock

ROOM = 16.0
"""Units round the sock, for marks at its edges."""

TOUCH = 14.0
"""Radius of what a finger hits; two of them are the 24 px that WCAG 2.2 wants (2.5.8), also on a narrow phone."""


class Mark(NamedTuple):
    """Followers who are at one place: the sock in hand, its part, how far down that is from cuff to toe (0 to 1).

    `who` says who they are, and `address` leads to them.
    """

    sock: int
    part: PartOfSock
    share: float
    followers: int
    who: str
    address: str


def group_sock_svg(plan: Plan, marks: Sequence[Mark]) -> Markup:
    """The sock of a plan with these marks: round ones for sock one, square ones for sock two."""
    drawn, sock = bare_sock(plan), outline_of(plan)
    places = {part: (start, end) for part, start, end in _places(sock)}
    shown = Markup("").join(
        _mark(mark, *_point(places.get(mark.part) or places["heel"], mark.share), drawn.scale) for mark in marks
    )
    return Markup(
        '<svg class="group-sock" viewBox="{:.1f} {:.1f} {:.1f} {:.1f}" role="group" aria-labelledby="group-sock-title">'
        '<title id="group-sock-title">The sock from the side, with a mark where each is</title>{}'
        '<g transform="translate({:.1f} {:.1f})">{}</g></svg>'
    ).format(
        drawn.left - ROOM,
        drawn.top - ROOM,
        drawn.wide + 2 * ROOM,
        drawn.high + 2 * ROOM,
        drawn.parts,
        drawn.left + EDGE,
        drawn.top + EDGE,
        shown,
    )


Point = tuple[float, float]


def _places(sock: Outline) -> Iterator[tuple[PartOfSock, Point, Point]]:
    """Along which line, in cm, each part grows, from the cuff to the toe."""
    low = (sock.middle + sock.sole) / 2
    yield "cuff", (sock.top_wide / 2, 0), (sock.top_wide / 2, sock.cuff_end)
    yield "leg", (sock.side, sock.cuff_end), (sock.side, sock.leg_end)
    yield "heel", (sock.side / 2, sock.heel_top), (sock.side / 2, sock.heel_end)
    if sock.gusset_end > sock.heel_front:
        yield "gusset", (sock.heel_front, low), (sock.gusset_end, low)
    yield "foot", (sock.gusset_end, sock.middle), (sock.toe_start, sock.middle)
    yield "toe", (sock.toe_start, sock.middle), (sock.length, sock.middle)


def _point(place: tuple[Point, Point], share: float) -> Point:
    (x0, y0), (x1, y1) = place
    return x0 + (x1 - x0) * share, y0 + (y1 - y0) * share


def _mark(mark: Mark, x: float, y: float, scale: float) -> Markup:
    size = 7 if mark.followers == 1 else 7 + 3 * len(str(mark.followers))
    shape = (
        Markup('<circle class="mark" r="{}"/>').format(size)
        if mark.sock == 1
        else Markup('<rect class="mark" x="-{0}" y="-{0}" width="{1}" height="{1}"/>').format(size, 2 * size)
    )
    number = Markup('<text class="middle" y="5">{}</text>').format(mark.followers) if mark.followers > 1 else ""
    return Markup(
        '<a href="{}" aria-label="{}" transform="translate({:.1f} {:.1f})"><title>{}</title>'
        '<circle class="touch" r="{}"/>{}{}</a>'
    ).format(mark.address, mark.who, x * scale, y * scale, mark.who, TOUCH, shape, number)
