"""The picture of a sock, read by an independent reader of PNG."""

from __future__ import annotations

import io
from itertools import product

import pytest
from PIL import Image, ImageChops

from companion.drawings.outline import outline_of
from companion.drawings.png import HEIGHT, MARGIN, PAPER, WIDTH, YARN, sock_png
from companion.drawings.sock import sock_svg
from companion.planning import PlanRequest, make_plan
from companion.planning.plan.design import USUAL_FOOT, USUAL_GAUGE
from companion.planning.request.plan_request import Construction
from tests.planning.requests import DIRECTIONS, HEELS, TOES

WAYS = list(product(DIRECTIONS, HEELS, TOES))[::5]


@pytest.mark.parametrize("way", WAYS, ids=str)
def test_the_sock_stands_in_the_middle_in_its_own_proportions(way: tuple[str, str, str]) -> None:
    construction = Construction.model_validate(dict(zip(("direction", "heel", "toe"), way, strict=True)))
    plan = make_plan(PlanRequest(foot=USUAL_FOOT, gauge=USUAL_GAUGE, construction=construction))
    with Image.open(io.BytesIO(sock_png(str(sock_svg(plan, "cm"))))) as read:
        assert read.size == (WIDTH, HEIGHT)
        picture = read.convert("RGB")
    assert picture.getpixel((2, 2)) == picture.getpixel((WIDTH - 3, HEIGHT - 3)) == PAPER
    box = ImageChops.difference(picture, Image.new("RGB", picture.size, PAPER)).getbbox()
    assert box
    left, top, right, bottom = box
    assert abs(left + right - WIDTH) <= 6
    assert abs(top + bottom - HEIGHT) <= 6
    assert bottom - top == pytest.approx(HEIGHT - 2 * MARGIN, abs=6)
    sock = outline_of(plan)
    assert (right - left) / (bottom - top) == pytest.approx(sock.widest / sock.sole, abs=0.03)
    colours = picture.getcolors(WIDTH * HEIGHT)
    assert colours
    assert max((count for count, colour in colours if colour == YARN), default=0) > WIDTH * HEIGHT / 10


def test_the_same_sock_is_the_same_file() -> None:
    plan = make_plan(PlanRequest(foot=USUAL_FOOT, gauge=USUAL_GAUGE))
    drawing = str(sock_svg(plan, "cm"))
    first = sock_png(drawing)
    sock_png.cache_clear()
    assert sock_png(drawing) == first
    assert len(first) < 20_000
