"""QR codes are read back by a reader that is not ours."""

from __future__ import annotations

import re

import zxingcpp
from PIL import Image, ImageDraw

from companion.drawings.qr import qr_svg, qr_text

from ..conftest import Browser

DOT = 8
"""Pixels for a unit of the picture."""

LINK = "http://192.0.2.7:8712/pair/ABCDEFGHIJKLMNOPQRSTUV/knit"


def drawn(svg: str) -> Image.Image:
    """The picture of an SVG that is squares on a ground, such as a QR code."""
    size = re.search(r'viewBox="0 0 ([\d.]+) ', svg)
    ground = re.search(r'<rect fill="(\w+)"', svg)
    assert size
    assert ground
    side = round(float(size[1]) * DOT * 10)
    image = Image.new("L", (side, side), ground[1])
    pen = ImageDraw.Draw(image)
    for left, top, right, bottom in re.findall(r"M([\d.]+),([\d.]+)H([\d.]+)V([\d.]+)", svg):
        box = [round(float(number) * DOT * 10) for number in (left, top, right, bottom)]
        pen.rectangle((box[0], box[1], box[2] - 1, box[3] - 1), fill="black")
    return image


def printed(text: str) -> Image.Image:
    """The picture of block characters, light on a dark terminal."""
    lines = text.splitlines()
    image = Image.new("L", (len(lines[0]) * DOT, 2 * len(lines) * DOT), "black")
    pen = ImageDraw.Draw(image)
    for row, line in enumerate(lines):
        for column, block in enumerate(line):
            for half, blocks in enumerate(("█▀", "█▄")):
                if block in blocks:
                    left, top = column * DOT, (2 * row + half) * DOT
                    pen.rectangle((left, top, left + DOT - 1, top + DOT - 1), fill="white")
    return image


def test_the_code_on_the_page_opens_the_pair(browser: Browser, link: str) -> None:
    page = browser.get(f"/pair/{link}").text
    code = re.search(r"<svg[^>]*>\s*<rect fill=.*?</svg>", page, re.DOTALL)
    assert code
    [found] = zxingcpp.read_barcodes(drawn(code[0]))
    assert found.text == f"http://localhost/pair/{link}/knit"
    assert browser.get(found.text.removeprefix("http://localhost")).status_code == 200


def test_the_code_has_a_white_ground_of_its_own() -> None:
    assert '<rect fill="white"' in qr_svg(LINK)
    assert "style=" not in qr_svg(LINK)


def test_the_code_in_the_terminal_reads_too() -> None:
    [found] = zxingcpp.read_barcodes(printed(qr_text(LINK)))
    assert found.text == LINK
