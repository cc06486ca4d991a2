"""The drawing of a sock as a PNG picture, for places that show no SVG. Without words and measurements.

The file is built by the PNG specification (W3C, third edition, 2025): one palette, one byte a pixel, no filters.
"""

from __future__ import annotations

import math
import re
import struct
import zlib
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import accumulate, pairwise
from operator import add
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]
Colour: TypeAlias = tuple[int, int, int]

WIDTH, HEIGHT = 1200, 630
"""Pixels; the shape that previews of links have (common practice)."""

MARGIN = 60
LINE = 4.0
"""Width of a drawn line in pixels."""

PAPER: Colour = (0xFA, 0xF6, 0xEE)
YARN: Colour = (0x1F, 0x6A, 0x70)
TAPE: Colour = (0xF3, 0xC9, 0x4B)

SHADES = 16
"""Steps from paper to yarn, and as many from there to the colour of the lines: 16 times 16 fill the palette."""
SUB_ROWS = 4
"""How many lines of a row of pixels are looked at, to smooth slanting edges."""
PARTS = 60
"""Parts of a pixel in which an edge is placed."""
MOST_LAYERS = 16
"""Lines that meet in one pixel at the most."""
CURVE = 12
"""Straight pieces for a curve."""

_STEP = [min((SHADES - 1) * parts // (PARTS * SUB_ROWS), SHADES - 1) for parts in range(MOST_LAYERS * PARTS * SUB_ROWS)]
"""The step for a number of covered parts."""

_PATH = re.compile(r'<path class="sock-(shape|rib|border)" d="([^"]*)"')
_PIECE = re.compile(r"([MLQZ])([^MLQZ]*)")


def _points(way: str) -> list[Point]:
    """The corners of an SVG path of absolute M, L, Q and Z, its curves cut into straight pieces."""
    found: list[Point] = []
    for letter, text in _PIECE.findall(way):
        numbers = [float(number) for number in text.replace(",", " ").split()]
        points = list(zip(numbers[::2], numbers[1::2], strict=True))
        if letter == "Q":
            (x0, y0), (x1, y1), (x2, y2) = found[-1], *points
            for step in range(1, CURVE + 1):
                t = step / CURVE
                a, b, c = (1 - t) ** 2, 2 * t * (1 - t), t**2
                found.append((a * x0 + b * x1 + c * x2, a * y0 + b * y1 + c * y2))
        else:
            found += points
    return found


def _stroke(points: Sequence[Point]) -> Iterator[list[Point]]:
    """A line as thin rectangles."""
    for (x0, y0), (x1, y1) in pairwise(points):
        long = math.hypot(x1 - x0, y1 - y0)
        if long:
            dx, dy = (y0 - y1) / long * LINE / 2, (x1 - x0) / long * LINE / 2
            yield [(x0 + dx, y0 + dy), (x1 + dx, y1 + dy), (x1 - dx, y1 - dy), (x0 - dx, y0 - dy)]


def _crossings(shapes: Iterable[Sequence[Point]], y: float) -> Iterator[list[float]]:
    """Where each closed shape is entered and left along a level."""
    for shape in shapes:
        found = [
            x0 + (y - y0) * (x1 - x0) / (y1 - y0)
            for (x0, y0), (x1, y1) in pairwise([*shape, shape[0]])
            if (y0 <= y) != (y1 <= y)
        ]
        if found:
            yield sorted(found)


def _levels(shapes: Sequence[Sequence[Point]], row: int) -> Iterator[int]:
    """How much of each pixel of a row lies inside the shapes, in steps from none to all.

    Counted in whole parts of a pixel and summed up along the row, which leaves the work on each pixel to C.
    """
    changes = [0] * (WIDTH + 2)
    for sub in range(SUB_ROWS):
        for edges in _crossings(shapes, row + (sub + 0.5) / SUB_ROWS):
            for edge, sign in zip(edges, (1, -1) * len(edges), strict=False):
                whole, part = divmod(round(min(max(edge, 0.0), WIDTH) * PARTS), PARTS)
                changes[whole] += sign * (PARTS - part)
                changes[whole + 1] += sign * part
    return map(_STEP.__getitem__, accumulate(changes[:WIDTH]))


def _mixed(one: Colour, other: Colour, share: float) -> Colour:
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(one, other, strict=True))
    return red, green, blue


def _palette() -> bytes:
    top = SHADES - 1
    return bytes(
        value
        for shape in range(SHADES)
        for line in range(SHADES)
        for value in _mixed(_mixed(PAPER, YARN, shape / top), TAPE, line / top)
    )


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def _rows(shapes: Sequence[Sequence[Point]], lines: Sequence[Sequence[Point]]) -> Iterator[bytes]:
    for row in range(HEIGHT):
        inside = [one for one in lines if min(y for _, y in one) <= row + 1 and max(y for _, y in one) >= row]
        shape = map(SHADES.__mul__, _levels(shapes, row))
        yield bytes(map(add, shape, _levels(inside, row))) if inside else bytes(shape)


def _placed(parts: list[tuple[str, list[Point]]]) -> list[tuple[str, list[Point]]]:
    """The parts as large as they fit in the middle of the picture."""
    xs, ys = zip(*(point for _, points in parts for point in points), strict=True)
    wide, high = max(xs) - min(xs), max(ys) - min(ys)
    scale = min((WIDTH - 2 * MARGIN) / wide, (HEIGHT - 2 * MARGIN) / high)
    left, top = (WIDTH - wide * scale) / 2 - min(xs) * scale, (HEIGHT - high * scale) / 2 - min(ys) * scale
    return [(kind, [(left + x * scale, top + y * scale) for x, y in points]) for kind, points in parts]


@lru_cache(maxsize=64)
def sock_png(drawing: str) -> bytes:
    """The sock of an SVG drawing that `sock_svg` made, as a PNG file."""
    parts = _placed([(kind, _points(way)) for kind, way in _PATH.findall(drawing)])
    shapes = [points for kind, points in parts if kind == "shape"]
    lines = [piece for kind, points in parts if kind != "shape" for piece in _stroke(points)]
    pixels = zlib.compress(b"".join(b"\0" + row for row in _rows(shapes, lines)), 9)
    header = struct.pack(">IIBBBBB", WIDTH, HEIGHT, 8, 3, 0, 0, 0)
    chunks = ((b"IHDR", header), (b"PLTE", _palette()), (b"IDAT", pixels), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(_chunk(kind, data) for kind, data in chunks)
