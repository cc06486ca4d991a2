"""The picture of a sock, read by an independent reader of PNG."""

from __future__ import annotations

import io
from collections.abc import Sequence
from itertools import product

import numpy as np
import pytest
from PIL import Image, ImageChops, ImageColor

from companion.drawings.outline import outline_of
from companion.drawings.png import HEIGHT, MARGIN, PAPER, WIDTH, YARN, sock_png
from companion.planning import Plan, PlanRequest, make_plan
from companion.planning.plan.design import USUAL_FOOT, USUAL_GAUGE
from companion.planning.request.construction import Construction
from companion.planning.request.plan_request import Chart, Leg, Yarn
from tests.planning.requests import DIRECTIONS, HEELS, TOES

WAYS = list(product(DIRECTIONS, HEELS, TOES))[::5]


def picture_of(plan: Plan) -> Image.Image:
    with Image.open(io.BytesIO(sock_png(plan))) as read:
        assert read.size == (WIDTH, HEIGHT)
        return read.convert("RGB")


def nearest(picture: Image.Image, colours: Sequence[str]) -> dict[str, int]:
    """How many pixels are nearer to each of some colours than to the others; edges are blurred."""
    found = picture.getcolors(picture.width * picture.height)
    assert found
    known = np.array([ImageColor.getrgb(colour) for colour in colours], dtype=float)
    counts = dict.fromkeys(colours, 0)
    for pixels, shown in found:
        counts[colours[((known - shown) ** 2).sum(axis=-1).argmin()]] += pixels
    return counts


@pytest.mark.parametrize("way", WAYS, ids=str)
def test_the_sock_stands_in_the_middle_in_its_own_proportions(way: tuple[str, str, str]) -> None:
    construction = Construction.model_validate(dict(zip(("direction", "heel", "toe"), way, strict=True)))
    plan = make_plan(PlanRequest(foot=USUAL_FOOT, gauge=USUAL_GAUGE, construction=construction))
    picture = picture_of(plan)
    paper = ImageColor.getrgb(PAPER)
    assert picture.getpixel((2, 2)) == picture.getpixel((WIDTH - 3, HEIGHT - 3)) == paper
    box = ImageChops.difference(picture, Image.new("RGB", picture.size, paper)).getbbox()
    assert box
    left, top, right, bottom = box
    assert abs(left + right - WIDTH) <= 6
    assert abs(top + bottom - HEIGHT) <= 6
    assert bottom - top == pytest.approx(HEIGHT - 2 * MARGIN, abs=20), "but for the room of an outline"
    sock = outline_of(plan)
    assert (right - left) / (bottom - top) == pytest.approx(sock.widest / sock.sole, abs=0.03)
    assert nearest(picture, (YARN, PAPER))[YARN] > WIDTH * HEIGHT / 10


COLOURS = ("#8b1e3f", "#2fa84f")


def in_colour(*rows: str, width: int = 8) -> Plan:
    chart = Chart(width=width, rows=rows)
    yarns = tuple(Yarn(key=key, colour=colour) for key, colour in zip("AB", COLOURS, strict=True))
    return make_plan(PlanRequest(foot=USUAL_FOOT, gauge=USUAL_GAUGE, leg=Leg(chart=chart), yarns=yarns))


@pytest.mark.parametrize("chart", [("AABBAAAA", "ABBBBAAA", "AABBAAAA"), ("A", "A", "B")], ids=["stranded", "stripes"])
def test_a_sock_in_colour_has_the_colours_of_its_yarns(chart: tuple[str, ...]) -> None:
    """On the leg each as often as in the chart; heel, foot, toe and cuff are in the first yarn."""
    plan = in_colour(*chart, width=len(chart[0]))
    found = nearest(picture_of(plan), (*COLOURS, PAPER))
    sock = outline_of(plan)
    leg = sock.leg_wide * (sock.leg_end - sock.cuff_end)
    whole = sock.leg_wide * sock.sole + (sock.length - sock.leg_wide) * (sock.sole - sock.instep)
    share = "".join(chart).count("B") / len("".join(chart))
    assert found[COLOURS[1]] / (found[COLOURS[0]] + found[COLOURS[1]]) == pytest.approx(leg * share / whole, rel=0.25)


def test_the_same_sock_is_the_same_file() -> None:
    plan = make_plan(PlanRequest(foot=USUAL_FOOT, gauge=USUAL_GAUGE))
    first = sock_png(plan)
    sock_png.cache_clear()
    assert sock_png(plan) == first
    assert len(first) < 20_000
