"""A leader at a desk and three followers on phones, through a change, a stage and sharing."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Thread
from typing import Any
from zoneinfo import ZoneInfo

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, FilePayload, Page, expect

from ..conftest import NewPhone
from ..knitting import Knitting, script_of, section_of
from ..leading import change_design, fill_in_design, join, make_design, share
from ..server import Server

DESK = {"viewport": {"width": 1280, "height": 900}, "is_mobile": False, "has_touch": False}

BODIES = {
    "Ortrun": {"ball_circumference": "22.5", "foot_length": "24.5", "stitches": "30", "rounds": "42"},
    "Wiebke": {"unit": "in inches", "ball_circumference": "9 1/2", "foot_length": "10 1/4", "stitches": "32"},
    "Hauke": {"ball_circumference": "20", "foot_length": "22", "stitches": "36", "heel_diagonal": "30"},
}
"""Three feet and three gauges, one of them measured in inches."""

ZONE = "Pacific/Auckland"


def in_days(days: int) -> str:
    """The day in so many days, where the leader is."""
    return (datetime.now(UTC).astimezone(ZoneInfo(ZONE)).date() + timedelta(days=days)).isoformat()


def leg_stitches(knitting: Knitting, sock: int = 1) -> int:
    """Stitches in the first round of the leg, as the server has the plan now."""
    data = knitting.data()
    script = script_of(data, sock)
    first = section_of(data, sock, "leg")["first"]
    return int(script["instructions"][script["rounds"][first]]["before"])


def group_page(desk: Page, address: str) -> list[str]:
    """What the leader sees of the group, a line for each person."""
    desk.goto(address)
    desk.get_by_role("link", name="How the group is doing").click()
    expect(desk.get_by_role("heading", level=1)).to_have_text("How the group is doing")
    return [row.inner_text() for row in desk.locator(".people tbody tr").all()]


def read_code(desk: Page) -> str:
    """What a camera reads off the screen."""
    picture = desk.get_by_role("img", name="QR code with the link for followers").screenshot()
    [code] = zxingcpp.read_barcodes(Image.open(io.BytesIO(picture)))
    return code.text


def has_the_pace(knitting: Knitting, days: int, done: int = 0) -> None:
    """Rounds left to the end of the leg, and a day. The days are counted in the leader's zone, today among them."""
    leg = section_of(knitting.data(), 1, "leg")
    left = leg["first"] + leg["count"] - done
    expect(knitting.page.locator("#pace")).to_contain_text(f"{left} rounds left, {-(-left // days)} a day")


def goes_on_without_network(knitting: Knitting) -> None:
    """Opened again, the page still has note and pace."""
    knitting.works_without_network()
    knitting.everything_is_sent()
    knitting.page.context.set_offline(True)
    knitting.page.reload()
    knitting.is_ready()
    knitting.go_to_section("Heel flap")
    expect(knitting.page.locator("#leader-note")).to_have_text("Slip the first stitch of every row.")
    expect(knitting.page.locator("#pace")).to_have_text("")
    knitting.go_to_round(2)
    expect(knitting.page.locator("#pace")).to_contain_text("Leg done by")


def takes_the_change_over(knitting: Knitting, whose: str, leg: str) -> None:
    """From the plan page, look at what would be different, and take it."""
    page = knitting.page
    before = script_of(knitting.data(), 1)
    page.goto(f"/pair/{knitting.link}")
    page.get_by_role("link", name="See what would be different").tap()
    expect(page.get_by_text(whose)).to_be_visible()
    expect(page.locator(".changes summary", has_text="Leg length")).to_contain_text(f"after {leg}")
    assert script_of(knitting.data(), 1) == before, "nothing changes until it is taken"
    page.get_by_role("button", name="Take it over").tap()
    page.wait_for_url(f"**/pair/{knitting.link}")


def rounds_of(script: dict[str, Any], done: int) -> list[Any]:
    """What the first rounds of a sock say."""
    return [script["instructions"][number] for number in script["rounds"][:done]]


def leg_rounds(knitting: Knitting, sock: int) -> int:
    return int(section_of(knitting.data(), sock, "leg")["count"])


def test_a_group_through_a_change_a_stage_and_sharing(new_phone: NewPhone, server: Server) -> None:
    desk = new_phone(server, worker=False, **DESK)
    address = fill_in_design(desk, "Larch and moss", time_zone=ZONE, stage_by_1=in_days(6))
    leaders_page = desk.url
    assert read_code(desk) == address

    pages = {name: new_phone(server, worker=name == "Hauke") for name in BODIES}
    group = {name: Knitting(pages[name], join(pages[name], address, **BODIES[name])).open() for name in BODIES}
    ortrun, wiebke, hauke = group.values()
    assert len({leg_stitches(one) for one in group.values()}) == 3
    expect(wiebke.page.locator("#length")).to_have_text("0 in")
    for one in group.values():
        has_the_pace(one, days=7)
    goes_on_without_network(hauke)

    # Ortrun has begun her first sock, Wiebke none; then the leader changes the design.
    ortrun.count(3)
    ortrun.everything_is_sent()
    begun = script_of(ortrun.data(), 1)
    change_design(desk, leg_length="9", note_leg="Take it slowly.", stage_by_1=in_days(13))
    takes_the_change_over(ortrun, "For both socks, after round 3", "9 cm")
    wiebke.open()
    expect(wiebke.page.get_by_role("link", name="see what would be different")).to_be_visible()
    takes_the_change_over(wiebke, "For both socks", "3 1/2 in")
    assert rounds_of(script_of(ortrun.data(), 1), 3) == rounds_of(begun, 3), "what is knitted stays as it is"
    leg = next(section["count"] for section in begun["sections"] if section["key"] == "leg")
    assert leg_rounds(ortrun, 1) == leg_rounds(ortrun, 2) < leg
    assert leg_rounds(wiebke, 1) == leg_rounds(wiebke, 2)
    ortrun.open()
    ortrun.is_at(3)
    has_the_pace(ortrun, days=14, done=3)
    expect(ortrun.page.get_by_role("link", name="see what would be different")).to_have_count(0)
    ortrun.go_to_section("Leg")
    expect(ortrun.page.locator("#leader-note")).to_have_text("Take it slowly.")

    # Back on the network, the sock that Hauke has begun without is begun for the server too.
    hauke.page.context.set_offline(False)
    hauke.everything_is_sent()
    hauke.page.goto(f"/pair/{hauke.link}/design")
    expect(hauke.page.get_by_text(re.compile("For both socks, after round"))).to_be_visible()
    hauke.page.get_by_role("button", name="Leave my plan as it is").tap()
    expect(hauke.page.get_by_text("The changed design waits below")).to_be_visible()
    hauke.open()
    expect(hauke.page.get_by_role("link", name="see what would be different")).to_have_count(0)
    shares_and_takes_it_back(desk, leaders_page, ortrun, wiebke)


def shares_and_takes_it_back(desk: Page, leaders_page: str, one: Knitting, other: Knitting) -> None:
    """Nobody shares until she says so; then the leader sees who does, and what."""
    assert group_page(desk, leaders_page) == []
    for knitting, name, size in ((one, "Ortrun", False), (other, "Wiebke", True)):
        knitting.page.goto(f"/pair/{knitting.link}")
        # The browser can fill it in (WCAG 2.2, success criterion 1.3.5).
        expect(knitting.page.locator("#first_name")).to_have_attribute("autocomplete", "given-name")
        share(knitting.page, name, size=size)
    second, first = group_page(desk, leaders_page)  # in the order of the sock
    for word in ("Ortrun", "leg", "not shared"):
        assert word in first
    assert "Wiebke" in second
    assert re.search(r"\d+ stitches, [\d.]+ cm round", second)
    desk.get_by_role("link", name="Ortrun: sock 1, leg").click()
    expect(desk.locator(".people tbody tr")).to_have_count(1)
    expect(desk.get_by_role("rowheader", name="Ortrun")).to_be_visible()
    one.page.get_by_role("button", name="Stop sharing").tap()
    expect(one.page.get_by_text("off: the leader sees nothing of this pair")).to_be_visible()
    assert [row.split()[0] for row in group_page(desk, leaders_page)] == ["Wiebke"]


@pytest.mark.usefixtures("without_worker")
def test_rounds_counted_without_network_stay_as_they_are(new_phone: NewPhone, server: Server) -> None:
    """The server has not heard of them; the phone that takes the change over has."""
    desk = new_phone(server, **DESK)
    address = make_design(desk)
    page = new_phone(server)
    knitting = Knitting(page, join(page, address, **BODIES["Ortrun"])).open()
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
    address = make_design(new_phone(server, **DESK))
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


@pytest.mark.usefixtures("without_worker")
@pytest.mark.parametrize(("paper", "size"), [("A6", (105, 148)), ("A4", (210, 297)), ("Letter", (215.9, 279.4))])
def test_the_card_prints_on_one_page_of_its_paper(
    new_phone: NewPhone, server: Server, paper: str, size: tuple[int, int]
) -> None:
    """ISO 216: A6 is 105 by 148 mm, A4 is 210 by 297 mm; ANSI/ASME Y14.1: Letter is 8.5 by 11 in.

    A PDF's MediaBox is in points of 1/72 in (ISO 32000).
    """
    page = new_phone(server, **DESK)
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
    page.get_by_role("link", name=paper).click()
    page.wait_for_load_state()
    pdf = page.pdf(prefer_css_page_size=True)
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    assert len(boxes) == 1
    assert [float(points) / 72 * 25.4 for points in boxes[0]] == pytest.approx(size, abs=0.6)


def picture(width: int, height: int) -> FilePayload:
    """A PNG, which no camera makes, larger than what is kept."""
    file = io.BytesIO()
    Image.linear_gradient("L").resize((width, height)).save(file, "PNG")
    return {"name": "moss.png", "mimeType": "image/png", "buffer": file.getvalue()}


@pytest.mark.usefixtures("without_worker")
def test_a_leaders_photo_is_made_small_and_seen_at_its_part(new_phone: NewPhone, server: Server) -> None:
    desk = new_phone(server, **DESK)
    address = make_design(desk)
    leaders_page = desk.url
    desk.get_by_label("For the").select_option("heel")
    photo = desk.get_by_label("A photo, JPEG")
    photo.set_input_files({"name": "notes.txt", "mimeType": "text/plain", "buffer": b"Larch"})
    expect(desk.get_by_text("cannot be read as a picture")).to_be_visible()
    photo.set_input_files(picture(3200, 1600))
    expect(desk.get_by_text("Ready to be kept")).to_be_visible()
    desk.get_by_role("button", name="Keep the photo").click()
    expect(desk.get_by_role("img", name="Your photo for the heel")).to_be_visible()
    page = new_phone(server)
    knitting = Knitting(page, join(page, address, **BODIES["Ortrun"])).open()
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
