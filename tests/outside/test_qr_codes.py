"""QR codes as an independent reader sees them, and against the measures of ISO/IEC 18004."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from xml.etree import ElementTree

import numpy as np
import numpy.typing as npt
import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page

from companion.drawings.qr import qr_svg, qr_text

QUIET = 4
"""Modules of quiet zone on each side; ISO/IEC 18004."""

ADDRESS = "http://192.168.178.20:8712/pair/Jx4_T-w0aQ9rZk2LmB7uVg"

# Bytes that versions 3 to 7 hold at level M; ISO/IEC 18004.
CAPACITY = {3: 42, 4: 62, 5: 84, 6: 106, 7: 122}

Modules = npt.NDArray[np.bool_]


def address_of(length: int) -> str:
    """An address this many bytes long; lower case letters are kept byte by byte."""
    return "http://knit.example/pair/".ljust(length, "q")


def read(picture: Image.Image) -> list[str]:
    codes = zxingcpp.read_barcodes(picture)
    assert all(code.format == zxingcpp.BarcodeFormat.QRCode for code in codes)
    return [code.text for code in codes]


def light_modules(text: str) -> Modules:
    """The modules of a code of block characters; each line has two rows of modules. A block is light."""
    upper = {"█": True, "▀": True, "▄": False, "\xa0": False}
    lower = {"█": True, "▀": False, "▄": True, "\xa0": False}
    rows = [[half[sign] for sign in line] for line in text.splitlines() for half in (upper, lower)]
    modules = np.array(rows[: len(rows[0])], dtype=np.bool_)
    assert not np.array(rows[len(rows[0]) :]).any(), "half a line is left over under a code with an odd side"
    return modules


def printed(text: str, foreground: int, background: int) -> Image.Image:
    """A terminal with this code in it: light or dark text on a ground of the other kind, a margin around it."""
    painted = np.where(light_modules(text), foreground, background).astype(np.uint8)
    return Image.fromarray(np.pad(np.kron(painted, np.ones((6, 6), np.uint8)), 40, constant_values=background))


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    opened = chromium.new_page(viewport={"width": 400, "height": 400})
    yield opened
    opened.close()


@pytest.mark.parametrize("ground", ["white", "black", "#223"])
def test_a_page_light_or_dark_shows_a_code_that_reads(page: Page, ground: str) -> None:
    page.set_content(f'<body style="background: {ground}">{qr_svg(ADDRESS)}</body>')
    page.add_style_tag(content="svg { inline-size: 240px; block-size: auto }")
    assert read(Image.open(io.BytesIO(page.screenshot()))) == [ADDRESS]


@pytest.mark.parametrize(("foreground", "background"), [(255, 0), (0, 255), (200, 40)])
def test_a_terminal_light_or_dark_shows_a_code_that_reads(foreground: int, background: int) -> None:
    assert read(printed(qr_text(ADDRESS), foreground, background)) == [ADDRESS]


@pytest.mark.parametrize("version", CAPACITY)
@pytest.mark.parametrize("short_of_full", [0, 8])
def test_the_side_is_that_of_the_smallest_version_with_room(version: int, short_of_full: int) -> None:
    # ISO/IEC 18004: a side of 17 + 4 x version modules.
    address = address_of(CAPACITY[version] - short_of_full)
    side = 17 + 4 * version
    assert light_modules(qr_text(address)).shape == (side + 2 * QUIET, side + 2 * QUIET)
    drawing = ElementTree.fromstring(str(qr_svg(address)))
    assert drawing.attrib["viewBox"].split() == ["0", "0", f"{side + 2 * QUIET}", f"{side + 2 * QUIET}"]


def test_four_light_modules_surround_the_code_in_a_terminal() -> None:
    modules = light_modules(qr_text(ADDRESS))
    inside = np.zeros_like(modules)
    inside[QUIET:-QUIET, QUIET:-QUIET] = True
    assert modules[~inside].all()
    # The finder patterns stand in three corners and reach the edge of the code.
    assert not modules[QUIET, QUIET : QUIET + 7].any()
    assert not modules[QUIET, -QUIET - 7 : -QUIET].any()
    assert not modules[-QUIET - 7 : -QUIET, QUIET].any()


def test_four_modules_on_a_white_ground_surround_the_code_on_a_page() -> None:
    drawing = ElementTree.fromstring(str(qr_svg(ADDRESS)))
    ground, code = drawing
    assert (ground.attrib["fill"], ground.attrib["width"], ground.attrib["height"]) == ("white", "100%", "100%")
    corners = [(int(x), int(y)) for x, y in re.findall(r"M(\d+),(\d+)", code.attrib["d"])]
    across, down = ({at[axis] for at in corners} for axis in (0, 1))
    side = int(drawing.attrib["viewBox"].split()[2])
    assert (min(across), max(across)) == (min(down), max(down)) == (QUIET, side - QUIET - 1)


def test_the_page_and_the_terminal_show_the_same_code() -> None:
    light = light_modules(qr_text(ADDRESS))
    drawing = ElementTree.fromstring(str(qr_svg(ADDRESS)))
    dark = {(int(x), int(y)) for x, y in re.findall(r"M(\d+),(\d+)", drawing[1].attrib["d"])}
    assert dark == {(int(x), int(y)) for y, x in np.argwhere(~light)}


def test_a_code_printed_on_a_dark_page_without_its_ground_would_not_be_safe(page: Page) -> None:
    # What the white ground is for: without it the quiet zone is as dark as the modules.
    bare = re.sub(r"<rect[^>]*/>", "", str(qr_svg(ADDRESS)))
    page.set_content(f'<body style="background: black">{bare}</body>')
    page.add_style_tag(content="svg { inline-size: 240px; block-size: auto }")
    assert read(Image.open(io.BytesIO(page.screenshot()))) == []
