"""A pair is planned by touch on one phone and carried to another by its QR code."""

from __future__ import annotations

import io
import re

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from ..conftest import NewPhone
from ..knitting import Knitting
from ..server import Server


def type_in(page: Page, name: str, text: str) -> None:
    page.locator(f"[name={name}]").tap()
    page.keyboard.type(text)


def read_code(page: Page) -> str:
    """What a camera reads off the screen."""
    picture = page.get_by_role("img", name="QR code with the link to this pair").screenshot()
    [code] = zxingcpp.read_barcodes(Image.open(io.BytesIO(picture)))
    return code.text


@pytest.mark.usefixtures("without_worker")
def test_a_pair_goes_from_the_form_to_a_second_phone(new_phone: NewPhone, server: Server) -> None:
    """From a small dark one to a larger one; the code is read off a light screen, too."""
    first = new_phone(server, 360, 800)
    first.emulate_media(color_scheme="dark")
    first.goto("/")
    first.locator("#main").get_by_role("link", name="Plan a pair").tap()
    for name, text in [("ball_circumference", "22,8"), ("foot_length", "24.5"), ("stitches", "30"), ("rounds", "42")]:
        type_in(first, name, text)

    choices = first.locator("label.choice")
    expect(first.locator("#choices input:checked")).to_have_count(1)
    neighbour = choices.filter(has=first.locator("input:not(:checked)")).first
    stitches = neighbour.locator("b").inner_text()
    neighbour.tap()
    expect(first.locator("#choices input:checked")).to_have_value(stitches)
    first.get_by_role("button", name="Make the plan").tap()
    first.wait_for_url(re.compile(r"/pair/[\w-]{22}$"))
    expect(first.get_by_role("definition").filter(has_text=f"{stitches} stitches").first).to_be_visible()
    link = first.url.rsplit("/", 1)[1]

    first.get_by_text("Take it along").tap()
    address = read_code(first)
    assert address == f"{server.address}/pair/{link}/knit"
    first.emulate_media(color_scheme="light")
    assert read_code(first) == address
    second = new_phone(server)
    second.goto(address)
    there = Knitting(second, link)
    there.is_ready()
    there.count(5)
    there.everything_is_sent()

    first.get_by_role("link", name="Knit", exact=True).tap()
    here = Knitting(first, link)
    here.is_at(5)
    first.get_by_role("button", name="Undo").tap()
    here.is_at(4)
    here.everything_is_sent()

    second.reload()
    there.is_at(4)
    there.everything_is_sent()
    assert server.counted(link) == [1, 2, 3, 4, 5, 4]
    assert first.locator("#words").inner_text() == second.locator("#words").inner_text()
