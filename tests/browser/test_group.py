"""A leader at a desk and three followers on phones, through a change, a stage and sharing."""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import BrowserContext, Page, Route, expect

from .conftest import NewPhone
from .knitting import Knitting, script_of, section_of
from .leading import change_design, join, make_design, share
from .server import Server

DESK = {"viewport": {"width": 1280, "height": 900}, "is_mobile": False, "has_touch": False}

BODIES = {
    "Ortrun": {"ball_circumference": "22.5", "foot_length": "24.5", "stitches": "30", "rounds": "42"},
    "Wiebke": {"unit": "in inches", "ball_circumference": "9 1/2", "foot_length": "10 1/4", "stitches": "32"},
    "Hauke": {"ball_circumference": "20", "foot_length": "22", "stitches": "34", "heel_diagonal": "30"},
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


@pytest.fixture
def followers(new_phone: NewPhone, server: Server) -> dict[str, BrowserContext]:
    return {name: new_phone(server) for name in BODIES}


def test_a_group_through_a_change_a_stage_and_sharing(
    new_phone: NewPhone, server: Server, followers: dict[str, BrowserContext]
) -> None:
    desk = new_phone(server, **DESK).new_page()
    address = make_design(desk, time_zone=ZONE, stage_by_1=in_days(6))
    leaders_page = desk.url
    assert read_code(desk) == address

    pages = {name: phone.new_page() for name, phone in followers.items()}
    pairs = {name: join(pages[name], address, **body) for name, body in BODIES.items()}
    knitting = {name: Knitting(pages[name], pairs[name]).open() for name in BODIES}
    assert len({leg_stitches(one) for one in knitting.values()}) == 3
    expect(pages["Wiebke"].locator("#length")).to_have_text("0 in")

    # The pace counts the days in the leader's zone, today among them.
    for one in knitting.values():
        left = section_of(one.data(), 1, "leg")["first"] + section_of(one.data(), 1, "leg")["count"]
        pace = f"{left} rounds left, {-(-left // 7)} a day"
        expect(one.page.locator("#pace")).to_contain_text(pace)

    # One goes on without network, and still has note and pace.
    away = knitting["Hauke"]
    away.works_without_network()
    away.everything_is_sent()
    followers["Hauke"].set_offline(True)
    away.page.reload()
    away.is_ready()
    away.go_to_section("Heel flap")
    expect(away.page.locator("#leader-note")).to_have_text("Slip the first stitch of every row.")
    expect(away.page.locator("#pace")).to_have_text("")
    away.go_to_round(2)
    expect(away.page.locator("#pace")).to_contain_text("Leg done by")

    # Ortrun has begun her first sock, Wiebke none; then the leader changes the design.
    knitting["Ortrun"].count(3)
    knitting["Ortrun"].everything_is_sent()
    before = {name: script_of(one.data(), 1) for name, one in knitting.items() if name != "Hauke"}
    change_design(desk, leg_length="9", note_leg="Take it slowly.", stage_by_1=in_days(13))
    for name, whose in (("Ortrun", "For sock 2"), ("Wiebke", "For both socks")):
        page = pages[name]
        page.goto(f"/pair/{pairs[name]}")
        page.get_by_role("link", name="See what would be different").tap()
        expect(page.get_by_text(whose)).to_be_visible()
        expect(page.get_by_role("row", name=re.compile("^Leg length"))).to_contain_text("9 cm")
        assert script_of(knitting[name].data(), 1) == before[name], "nothing changes until it is taken"
        page.get_by_role("button", name="Take it over").tap()
        page.wait_for_url(f"**/pair/{pairs[name]}")
    assert script_of(knitting["Ortrun"].data(), 1) == before["Ortrun"], "a sock that is begun stays as it is"
    assert (
        section_of(knitting["Ortrun"].data(), 2, "leg")["count"]
        < section_of(knitting["Ortrun"].data(), 1, "leg")["count"]
    )
    assert (
        section_of(knitting["Wiebke"].data(), 1, "leg")["count"]
        < section_of(knitting["Ortrun"].data(), 1, "leg")["count"]
    )
    knitting["Ortrun"].open()
    knitting["Ortrun"].is_at(3)
    expect(pages["Ortrun"].locator("#pace")).to_contain_text("rounds left")
    knitting["Ortrun"].go_to_section("Leg")
    expect(pages["Ortrun"].locator("#leader-note")).to_have_text("Take it slowly.")

    # Hauke has counted without network: his sock is begun, though the server does not know it when he is asked.
    followers["Hauke"].set_offline(False)
    away.everything_is_sent()
    away.page.goto(f"/pair/{pairs['Hauke']}/design")
    expect(away.page.get_by_text("For sock 2")).to_be_visible()

    # Nobody shares until she says so; then the leader sees who does, and what.
    assert group_page(desk, leaders_page) == []
    for name, size in (("Ortrun", False), ("Wiebke", True)):
        pages[name].goto(f"/pair/{pairs[name]}")
        share(pages[name], name, size=size)
    ortrun, wiebke = group_page(desk, leaders_page)
    assert "Ortrun" in ortrun
    assert "leg" in ortrun
    assert "not shared" in ortrun
    assert "Wiebke" in wiebke
    assert re.search(r"\d+ stitches, [\d.]+ cm round", wiebke)
    pages["Ortrun"].get_by_role("button", name="Stop sharing").tap()
    expect(pages["Ortrun"].get_by_text("off: the leader sees nothing of this pair")).to_be_visible()
    assert [row.split()[0] for row in group_page(desk, leaders_page)] == ["Wiebke"]


def test_rounds_counted_without_network_keep_a_change_away(new_phone: NewPhone, server: Server) -> None:
    """The server has not heard of them; the phone that takes the change over has."""
    desk = new_phone(server, **DESK).new_page()
    address = make_design(desk)
    phone = new_phone(server)
    page = phone.new_page()
    knitting = Knitting(page, join(page, address, **BODIES["Ortrun"])).open()
    knitting.everything_is_sent()
    page.route("**/log", lambda route: route.abort())
    knitting.count(2)
    change_design(desk, leg_length="9")
    page.goto(f"/pair/{knitting.link}/design")
    expect(page.locator("[name=round_1]")).to_have_value("2")
    page.get_by_role("button", name="Take it over").tap()
    page.wait_for_url(f"**/pair/{knitting.link}")
    data = knitting.data()
    assert section_of(data, 1, "leg")["count"] > section_of(data, 2, "leg")["count"]


def test_the_short_form_works_without_scripts(new_phone: NewPhone, server: Server) -> None:
    address = make_design(new_phone(server, **DESK).new_page())
    page = new_phone(server, java_script_enabled=False).new_page()
    page.goto(address)
    page.get_by_label("in inches").check()
    page.locator("[name=ball_circumference]").fill("22.9")
    page.get_by_role("button", name="Make my plan").tap()
    expect(page.locator("[name=ball_circumference]")).to_have_value("9")
    page.locator("[name=foot_length]").fill("9 3/4")
    page.locator("[name=stitches]").fill("30")
    page.get_by_role("button", name="Make my plan").tap()
    expect(page.get_by_role("heading", name="With the group")).to_be_visible()


def test_the_link_is_shared_by_the_phones_own_sheet(new_phone: NewPhone, server: Server) -> None:
    """W3C, Web Share API: `navigator.share` takes title and url. Chromium here has none, so the page is given one."""
    context = new_phone(server)
    context.add_init_script(
        "Object.defineProperty(Navigator.prototype, 'share', {value: (data) => {"
        "window.shared = data; return Promise.reject(new DOMException('', 'AbortError'));}})"
    )
    page = context.new_page()
    address = make_design(page)
    page.get_by_role("button", name="Share", exact=True).tap()
    assert page.evaluate("window.shared") == {"url": address, "title": "Larch and moss"}


def test_another_site_can_show_the_grid_and_nothing_else(new_phone: NewPhone, server: Server) -> None:
    """W3C, CSP Level 3: a page whose frame-ancestors is 'none' stays out of every frame."""
    phone = new_phone(server)
    page = phone.new_page()
    address = make_design(page)

    def show(route: Route) -> None:
        frames = f'<iframe src="{address}/grid" name="grid"></iframe><iframe src="{address}" name="form"></iframe>'
        route.fulfill(content_type="text/html", body=f"<!DOCTYPE html><title>Notes on socks</title>{frames}")

    messages: list[str] = []
    outside = phone.browser.new_context() if phone.browser else phone
    other = outside.new_page()
    other.on("console", lambda message: messages.append(message.text))
    other.route("http://another.example/**", show)
    other.goto("http://another.example/")
    expect(other.frame_locator("[name=grid]").get_by_role("heading", name="Larch and moss")).to_be_visible()
    assert any("frame-ancestors" in message for message in messages)
    expect(other.frame_locator("[name=form]").get_by_role("heading", name="Larch and moss")).to_have_count(0)
    outside.close()


@pytest.mark.parametrize(("paper", "size"), [("a6", (105, 148)), ("a4", (210, 297))])
def test_the_card_prints_on_one_page_of_its_paper(
    new_phone: NewPhone, server: Server, paper: str, size: tuple[int, int]
) -> None:
    """ISO 216: A6 is 105 by 148 mm, A4 is 210 by 297 mm. A PDF's MediaBox is in points of 1/72 in (ISO 32000)."""
    page = new_phone(server, **DESK).new_page()
    make_design(page, "Larch and moss and lichen, for the Thursday group")
    page.get_by_role("link", name=paper.upper()).click()
    page.wait_for_load_state()
    pdf = page.pdf(prefer_css_page_size=True)
    boxes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", pdf)
    assert len(boxes) == 1
    assert [float(points) / 72 * 25.4 for points in boxes[0]] == pytest.approx(size, abs=0.6)
