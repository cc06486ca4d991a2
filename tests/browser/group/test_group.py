"""What a leader hands out and a follower gets, page by page."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread
from typing import Any

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, FilePayload, Page, expect

from ..conftest import NewPhone
from ..knitting import Knitting, script_of, section_of
from ..leading import change_design, fill_in_design, follow, make_design
from ..server import Server

DESK = {"viewport": {"width": 1280, "height": 900}, "is_mobile": False, "has_touch": False}

BODY = {"ball_circumference": "22.5", "foot_length": "24.5", "stitches": "30", "rounds": "42"}


def read_code(desk: Page) -> str:
    """What a camera reads off the screen."""
    picture = desk.get_by_role("img", name="QR code with the link for followers").screenshot()
    [code] = zxingcpp.read_barcodes(Image.open(io.BytesIO(picture)))
    return code.text


def rounds_of(script: dict[str, Any], done: int) -> list[Any]:
    """What the first rounds of a sock say."""
    return [script["instructions"][number] for number in script["rounds"][:done]]


@pytest.mark.usefixtures("without_worker")
def test_rounds_counted_without_network_stay_as_they_are(new_phone: NewPhone, server: Server) -> None:
    """The server has not heard of them; the phone that takes the change over has."""
    desk, page = new_phone(server), new_phone(server)
    knitting = Knitting(page, follow(page, make_design(desk), **BODY)).open()
    knitting.everything_is_sent()
    page.route("**/log", lambda route: route.abort())
    before = script_of(knitting.data(), 1)
    knitting.count(2)
    change_design(desk, leg_length="9")
    page.goto(f"/pair/{knitting.link}/design")
    expect(page.locator("[name=round_1]")).to_have_value("2")
    page.get_by_role("button", name="Take it over").tap()
    page.wait_for_url(f"**/pair/{knitting.link}")
    data = knitting.data()
    assert rounds_of(script_of(data, 1), 2) == rounds_of(before, 2)
    sections = {section["key"]: section["count"] for section in before["sections"]}
    assert section_of(data, 1, "leg")["count"] == section_of(data, 2, "leg")["count"] < sections["leg"]


@pytest.mark.usefixtures("without_worker")
def test_the_short_form_works_without_scripts(new_phone: NewPhone, server: Server) -> None:
    address = make_design(new_phone(server))
    page = new_phone(server, java_script_enabled=False)
    page.goto(address)
    page.get_by_label("in inches").check()
    page.locator("[name=ball_circumference]").fill("22.9")
    page.get_by_role("button", name="Make my plan").tap()
    expect(page.locator("[name=ball_circumference]")).to_have_value("9")
    page.locator("[name=foot_length]").fill("9 3/4")
    page.locator("[name=stitches]").fill("30")
    page.get_by_role("button", name="Make my plan").tap()
    expect(page.get_by_role("heading", name="With the group")).to_be_visible()


@pytest.mark.usefixtures("without_worker", "own_phone")
def test_the_link_is_shared_by_the_phones_own_sheet(new_phone: NewPhone, server: Server) -> None:
    """W3C, Web Share API: `navigator.share` takes title and url. Chromium here has none, so the page is given one."""
    page = new_phone(server)
    page.add_init_script(
        "Object.defineProperty(Navigator.prototype, 'share', {value: (data) => {"
        "window.shared = data; return Promise.reject(new DOMException('', 'AbortError'));}})"
    )
    address = make_design(page)
    page.get_by_role("button", name="Share", exact=True).tap()
    assert page.evaluate("window.shared") == {"url": address, "title": "Larch and moss"}


@contextmanager
def another_site(body: str) -> Iterator[str]:
    """A server of one page, at another origin than ours; returns its address."""

    class Page(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            self.send_response(200)
            self.send_header("Content-Type", "text/html")
            self.end_headers()
            self.wfile.write(body.encode())

        def log_message(self, *_: object) -> None:
            """Say nothing."""

    with ThreadingHTTPServer(("127.0.0.1", 0), Page) as server:
        Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()


@pytest.mark.usefixtures("without_worker")
def test_another_site_can_show_the_grid_and_nothing_else(
    new_phone: NewPhone, chromium: Browser, server: Server
) -> None:
    """W3C, CSP Level 3: a page whose frame-ancestors is 'none' stays out of every frame."""
    address = make_design(new_phone(server))
    frames = f'<iframe src="{address}/grid" name="grid"></iframe><iframe src="{address}" name="form"></iframe>'
    messages: list[str] = []
    with (
        another_site(f"<!DOCTYPE html><title>Notes on socks</title>{frames}") as site,
        chromium.new_context() as outside,
    ):
        page = outside.new_page()
        page.on("console", lambda message: messages.append(message.text))
        page.goto(site)
        expect(page.frame_locator("[name=grid]").get_by_role("heading", name="Larch and moss")).to_be_visible()
        expect(page.frame_locator("[name=form]").get_by_role("heading", name="Larch and moss")).to_have_count(0)
        assert any("frame-ancestors" in message for message in messages)


PAPERS = {"A6": (105, 148), "A4": (210, 297), "Letter": (215.9, 279.4)}
"""Millimetres: A6 and A4 by ISO 216; Letter, 8.5 by 11 in, by ANSI/ASME Y14.1."""


@pytest.mark.usefixtures("without_worker")
def test_the_card_prints_on_one_page_of_each_paper(page: Page) -> None:
    """A PDF's MediaBox is in points of 1/72 in (ISO 32000)."""
    stages = {
        f"stage_{name}_{number}": value
        for number in range(1, 9)
        for name, value in {
            "name": f"Stage {number}, which has a long name",
            "by": "2099-12-06",
            "until": "leg",
        }.items()
    }
    yarns = {"yarn_count": "4", **{f"yarn_name{key}": "fingering, a long name of a colour" for key in ("", *"BCD")}}
    make_design(
        page, "Larch and moss and lichen, for the Thursday group", also_heel="short-row", also_toe="round",
        also_direction="toe-up", **stages, **yarns,
    )  # fmt: skip
    leaders_page = page.url
    for paper, size in PAPERS.items():
        page.goto(leaders_page)
        page.get_by_role("link", name=paper).click()
        page.wait_for_load_state()
        pdf = page.pdf(prefer_css_page_size=True)
        boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)
        assert len(boxes) == 1, paper
        assert [float(points) / 72 * 25.4 for points in boxes[0]] == pytest.approx(size, abs=0.6), paper


def picture(width: int, height: int) -> FilePayload:
    """A PNG, which no camera makes, larger than what is kept."""
    file = io.BytesIO()
    Image.linear_gradient("L").resize((width, height)).save(file, "PNG")
    return {"name": "moss.png", "mimeType": "image/png", "buffer": file.getvalue()}


@pytest.mark.usefixtures("without_worker")
def test_a_leaders_photo_is_made_small_and_seen_at_its_part(new_phone: NewPhone, server: Server) -> None:
    desk = new_phone(server, **DESK)
    address = fill_in_design(desk, "Larch and moss")
    leaders_page = desk.url
    assert read_code(desk) == address
    desk.get_by_label("For the").select_option("heel")
    photo = desk.get_by_label("A photo, JPEG")
    photo.set_input_files({"name": "notes.txt", "mimeType": "text/plain", "buffer": b"Larch"})
    expect(desk.get_by_text("cannot be read as a picture")).to_be_visible()
    photo.set_input_files(picture(3200, 1600))
    expect(desk.get_by_text("Ready to be kept")).to_be_visible()
    desk.get_by_role("button", name="Keep the photo").click()
    expect(desk.get_by_role("img", name="Your photo for the heel")).to_be_visible()
    page = new_phone(server)
    knitting = Knitting(page, follow(page, address, **BODY)).open()
    knitting.go_to_section("Heel flap")
    shown = page.get_by_role("img", name="The leader's photo for this part")
    expect(shown).to_be_visible()
    expect(shown).to_have_js_property("naturalWidth", 1600)
    # It is open as its part begins, and then out of the way until it is asked for.
    knitting.count()
    expect(shown).to_be_hidden()
    page.get_by_text("From the leader").tap()
    expect(shown).to_be_visible()
    knitting.go_to_section("Leg")
    expect(shown).to_have_count(0)
    desk.goto(leaders_page)
    desk.get_by_role("button", name="Remove the photo for the heel").click()
    expect(desk.get_by_role("img", name="Your photo for the heel")).to_have_count(0)


@pytest.mark.usefixtures("without_worker")
def test_the_design_form_says_whether_followers_have_a_choice_as_it_is_ticked(page: Page) -> None:
    page.goto("/design")
    others = page.locator("summary", has_text="What followers may choose instead")
    expect(others).to_contain_text("nothing", use_inner_text=True)
    others.tap()
    heel = page.get_by_role("group", name="Heel", exact=True).get_by_role("checkbox", name="Short-row heel", exact=True)
    heel.tap()
    expect(others).to_contain_text("other constructions as ticked", use_inner_text=True)
    expect(others).not_to_contain_text("nothing", use_inner_text=True)
    heel.tap()
    expect(others).to_contain_text("nothing", use_inner_text=True)
