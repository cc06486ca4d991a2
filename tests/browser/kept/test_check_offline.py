"""A gauge check without network: kept, counted on, calculated as soon as the server is there, accepted, taken back."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.planning.asking import planned

from ...conftest import made
from ..checking import count, count_again, take_way
from ..knitting import RETRY, Knitting, rounds_of, script_of
from ..server import Server

PLACE = 40


@pytest.fixture
def in_the_leg(page: Page, server: Server, link: str) -> Knitting:
    server.write(link, made(1, kind="go", round=PLACE))
    knitting = Knitting(page, link).open()
    knitting.is_at(PLACE)
    knitting.works_without_network()
    knitting.is_complete()
    return knitting


def count_gauge(knitting: Knitting, stitches: str, rounds: str) -> None:
    page = knitting.page
    page.get_by_role("link", name="Gauge check").tap()
    count(page, stitches, rounds)


def test_the_whole_story_of_a_check_without_network(in_the_leg: Knitting, server: Server, link: str) -> None:
    knitting, page = in_the_leg, in_the_leg.page
    before = knitting.data()
    page.context.set_offline(True)
    count_gauge(knitting, "27", "38")

    # Kept on the phone, and counting goes on.
    knitting.is_at(PLACE)
    expect(page.locator("#unseen-check")).to_have_text("Gauge check kept. What it means comes with the network.")
    knitting.count(3)
    assert not [entry for entry in server.entries(link) if entry.kind == "check"]

    # With the server there it is calculated, for the place where the knitter is by now.
    page.context.set_offline(False)
    notice = page.get_by_role("link", name="What your gauge check means")
    expect(notice).to_be_visible(timeout=RETRY)
    knitting.count(2)
    [check] = [entry for entry in server.entries(link) if entry.kind == "check"]
    assert (check.round, check.data) == (
        PLACE,
        {
            "stitches": [{"count": 27, "over_cm": 10}],
            "rounds": [{"count": 38, "over_cm": 10}],
            "needle_mm": script_of(before, 1)["needle_mm"],
        },
    )
    knitting.everything_is_sent()
    notice.tap()
    count_again(page, 27, 38)
    page.get_by_text("Your gauge so far").tap()
    expect(page.get_by_role("img", name=re.compile("Stitches over 10 cm, planned 32"))).to_be_visible()
    expect(page.locator(".lead")).to_contain_text(f"leg, round {PLACE + 5 - 18} of")

    # Accepted, taken back, and accepted again; sock two follows.
    take_way(page, "Keep the leg stitches")
    knitting.is_at(PLACE + 5)
    changed = knitting.data()
    assert rounds_of(changed, 1)[: PLACE + 5] == rounds_of(before, 1)[: PLACE + 5]
    assert rounds_of(changed, 1) != rounds_of(before, 1)
    knitting.take_change_back()
    knitting.is_at(PLACE + 5)
    assert rounds_of(knitting.data(), 1) == rounds_of(before, 1)
    expect(page.locator("#unseen-check")).to_have_count(0)
    page.goto(f"/pair/{link}/check/result")
    take_way(page, "Keep the leg stitches")
    knitting.is_at(PLACE + 5)
    assert rounds_of(knitting.data(), 2) == rounds_of(changed, 1)

    # The check of sock one counts for sock two as well.
    knitting.take_up(2)
    knitting.go_to_round(41)
    knitting.everything_is_sent()
    count_gauge(knitting, "27", "38")
    expect(page.get_by_role("heading", name="As planned.")).to_be_visible()
    expect(page.locator(".kept-checks li")).to_have_count(3)


def test_without_network_the_phone_asks_on_which_fabric_of_a_patterned_foot_was_counted(
    page: Page, server: Server
) -> None:
    """By hand: where plain knitting has 32 stitches the pattern has 38.4, so 20 of it are 16.7 plain ones."""
    pattern = {"name": "cable rib", "stitches_per_10cm": 38.4, "rounds_per_10cm": 50}
    plan = planned(leg={"length_cm": 14, "stitch_pattern": pattern}, foot_pattern="instep follows the leg")
    knitting = Knitting(page, server.add_plan(plan)).open()
    where, asked = page.locator("#count-where"), page.locator("#counted-on")
    knitting.works_without_network()
    knitting.is_complete()
    page.context.set_offline(True)
    knitting.go_to_round(plan.span("leg").stop)
    page.get_by_role("link", name="Gauge check").tap()
    expect(where).to_have_text("in the pattern, on the leg")
    expect(asked).to_be_hidden()
    page.get_by_role("link", name="Back to the knitting").tap()
    knitting.go_to_round(plan.span("foot").stop)
    page.get_by_role("link", name="Gauge check").tap()
    expect(where).to_have_text("on the plain sole")
    expect(page.locator("#counted-in")).to_be_hidden()
    page.get_by_label("the pattern", exact=True).check()
    count(page, "20", "44")
    expect(page.get_by_role("alert")).to_contain_text("16.7 over 10")
    count(page, "38", "44")
    knitting.is_ready()
    page.context.set_offline(False)
    knitting.everything_is_sent()
    [check] = [entry for entry in server.entries(knitting.link) if entry.kind == "check"]
    assert check.data
    assert check.data["in_pattern"] is True


REFUSED: list[tuple[dict[str, str], str]] = [
    ({}, "Count stitches over a width"),
    ({"stitches_1": "many"}, "Stitches: You typed “many”. A number is needed here"),
    ({"stitches_1": "0"}, "Stitches: You typed “0”. Allowed: 4 to 400"),
    ({"stitches_1": "3"}, "Stitches: You typed “3”. Allowed: 4 to 400"),
    ({"stitches_1": "401", "rounds_1": "2"}, "Stitches: You typed “401”. Allowed: 4 to 400"),
    ({"stitches_1": "30", "stitches_over_1": "300"}, "across: You typed “300”. Allowed: 2 to 60 cm"),
    ({"stitches_1": "16", "rounds_1": "42", "rounds_over_1": "1"}, "up: You typed “1”. Allowed: 2 to 60 cm"),
    (
        {"stitches_1": "30", "stitches_over_1": "10", "rounds_1": "12", "rounds_over_1": "10"},
        "Rounds: You typed “12”. 12 over 10 cm: the plan has",
    ),
    ({"stitches_1": "12", "stitches_over_1": "10"}, "Stitches: You typed “12”. 12 over 10 cm"),
    ({"rounds_1": "44", "rounds_over_1": "10"}, "Rounds: You typed “44”. 44: only 40 rounds are knitted; count again"),
]
"""What is typed into the form of the check, and what is said to it."""


TYPE = """(form, typed) => Object.entries(typed).forEach(([name, text]) => {
    form.elements[name].value = text;
    form.elements[name].dispatchEvent(new Event("input", { bubbles: true }));
})"""
TYPED = "(form) => Object.fromEntries(new FormData(form))"
SAID = """(page) => [...new DOMParser().parseFromString(page, "text/html").querySelectorAll("#errors li")]
    .map(({ textContent }) => textContent.trim())"""


def test_without_network_the_check_opens_with_its_place_and_the_phone_refuses_what_the_server_refuses(
    in_the_leg: Knitting,
) -> None:
    """And in the same words: the same form is sent to the server, and the page that it answers compared."""
    page = in_the_leg.page
    page.context.set_offline(True)
    page.get_by_role("link", name="Gauge check").tap()
    expect(page.locator("#check-place")).to_have_text(re.compile(r"^Ismene.*: Sock 1, leg, round 22 of \d+$"))
    page.get_by_role("link", name="Back to the knitting").tap()
    in_the_leg.is_at(PLACE)

    page.get_by_role("link", name="Gauge check").tap()
    form, send = page.locator("#check-form"), page.get_by_role("button", name="What does that mean?")
    expect(send).to_be_enabled()
    empty = {name: text for name, text in form.evaluate(TYPED).items() if name.endswith("_1")}
    token = page.request.get("/csrf").json()["token"]
    said = page.get_by_role("alert")
    for typed, says in REFUSED:
        form.evaluate(TYPE, {**empty, **typed})
        send.tap()
        expect(said).to_contain_text(says)
        if typed:
            expect(page.locator("[aria-invalid=true]").first).to_be_focused()
        address = f"/pair/{in_the_leg.link}/check"
        answer = page.request.post(address, form=form.evaluate(TYPED), headers={"X-CSRFToken": token})
        assert sorted(page.evaluate(SAID, answer.text())) == sorted(said.inner_text().splitlines()), typed
    page.context.set_offline(False)
    send.tap()
    expect(page.locator("#errors li")).to_contain_text([REFUSED[-1][1]])


def test_a_length_by_tape_without_network_is_kept_and_counted_on(
    in_the_leg: Knitting, server: Server, link: str
) -> None:
    knitting, page = in_the_leg, in_the_leg.page
    page.context.set_offline(True)
    page.get_by_role("button", name="Length", exact=True).tap()
    page.get_by_label("the cast-on").check()
    page.get_by_label("Length in cm").fill("201")
    page.get_by_role("button", name="Keep it").tap()
    expect(page.get_by_role("alert")).to_contain_text("“201” is no length of a sock in cm")
    page.get_by_label("Length in cm").fill("10")
    page.get_by_role("button", name="Keep it").tap()
    page.get_by_role("button", name="Close").tap()
    knitting.count(2)
    assert not [entry for entry in server.entries(link) if entry.kind == "length"]

    page.context.set_offline(False)
    knitting.everything_is_sent()
    [length] = [entry for entry in server.entries(link) if entry.kind == "length"]
    assert (length.round, length.data) == (PLACE, {"cm": 10, "from": "cast-on"})
    page.goto(f"/pair/{link}/check/result")
    expect(page.locator(".kept-checks li")).to_contain_text("10 cm long from the cast-on")
    expect(page.locator(".lead")).to_contain_text(f"leg, round {PLACE + 2 - 18} of")


def test_rounds_counted_on_the_way_are_sent_before_the_check(in_the_leg: Knitting, server: Server, link: str) -> None:
    """The knit page is left before its last count could be sent."""
    in_the_leg.page.context.set_offline(True)
    in_the_leg.count(2)
    in_the_leg.open_menu()
    page = in_the_leg.page
    page.get_by_role("link", name="Gauge check").tap()
    page.locator("[name=stitches_1]").fill("27")
    page.locator("[name=stitches_over_1]").fill("10")
    page.context.set_offline(False)
    page.get_by_role("button", name="What does that mean?").tap()
    expect(page.get_by_text("How sure is this?")).to_be_visible()
    found = [(entry.kind, entry.round) for entry in server.entries(link)]
    assert found[-3:] == [("count", PLACE + 1), ("count", PLACE + 2), ("check", PLACE + 2)]
