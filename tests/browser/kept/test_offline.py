"""Knitting without a network, and what happens when it comes back."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Error, Page, Request, Route, expect

from ...conftest import fully
from ..conftest import NewPhone
from ..knitting import RETRY, Knitting
from ..modules import Modules
from ..server import Server


def cut(context: BrowserContext) -> None:
    context.set_offline(True)


def join(context: BrowserContext) -> None:
    context.set_offline(False)


def test_rounds_counted_without_network_arrive_once_when_it_is_back(
    knitting: Knitting, server: Server, link: str
) -> None:
    context = knitting.page.context
    knitting.works_without_network()
    knitting.count(2)
    knitting.everything_is_sent()
    cut(context)
    knitting.count(3)
    expect(knitting.page.locator("#kept")).to_contain_text("3 not yet sent")
    assert server.counted(link) == [1, 2]

    # A busy computer may begin the worker again before it is told that there is no network: some may be sent here.
    knitting.page.reload()
    knitting.is_at(5)
    knitting.count(2)
    assert knitting.page.locator("#words").inner_text()

    join(context)
    knitting.everything_is_sent()
    assert server.counted(link) == [1, 2, 3, 4, 5, 6, 7]
    knitting.page.reload()
    knitting.is_at(7)
    knitting.everything_is_sent()
    assert server.counted(link) == [1, 2, 3, 4, 5, 6, 7]


HANGING = """() => {
    const [asked, timed] = [fetch, setTimeout];
    window.fetch = (url, ...more) => {
        if (!url.endsWith("/log")) return asked(url, ...more);
        return new Promise((_, refuse) => {
            window.fail = () => {
                window.fetch = asked;
                refuse(new TypeError("no network"));
            };
        });
    };
    window.setTimeout = (job, wait = 0) => wait < 2000 ? timed(job, wait) : 0;
}"""
"""The next attempt to send hangs until it is told to fail, and the wait after a failed one never ends."""


def test_a_network_that_is_back_before_an_attempt_has_failed_is_used_at_once(knitting: Knitting) -> None:
    knitting.everything_is_sent()
    knitting.page.evaluate(HANGING)
    knitting.count()
    knitting.page.wait_for_function("() => Boolean(window.fail)")
    knitting.page.evaluate("() => { dispatchEvent(new Event('online')); fail(); }")
    knitting.everything_is_sent()


@pytest.mark.usefixtures("without_worker")
def test_what_no_network_kept_from_being_loaded_comes_with_the_next_one(page: Page, link: str) -> None:
    page.route("**/knit/deferred.js", lambda route: route.abort())
    with page.expect_event("requestfailed"):
        knitting = Knitting(page, link).open()
    knitting.count()
    page.unroute("**/knit/deferred.js")
    page.wait_for_function("() => dispatchEvent(new Event('online')) && document.querySelector('[role=slider]')")
    knitting.count()


def test_a_start_without_network_finds_the_pairs(page: Page, link: str) -> None:
    context = page.context
    knitting = Knitting(context.new_page(), link).open()
    knitting.count(4)
    knitting.works_without_network()
    cut(context)
    knitting.page.close()
    page.goto("/")
    page.locator("#pairs").get_by_role("link", name=re.compile("^Ismene")).tap()
    Knitting(page, link).is_at(4)


def test_a_page_that_needs_the_network_says_so_and_leads_back(knitting: Knitting) -> None:
    knitting.works_without_network()
    cut(knitting.page.context)
    knitting.page.goto(f"/pair/{knitting.link}/change")
    expect(knitting.page.get_by_role("heading")).to_have_text("This page needs a network")
    knitting.page.get_by_role("link", name="Go on knitting this pair").tap()
    knitting.is_ready()


@pytest.fixture
def two(new_phone: NewPhone, server: Server, link: str) -> list[Knitting]:
    """The same pair on two phones."""
    return [Knitting(new_phone(server), link).open() for _ in range(2)]


def counted_apart(phones: list[Knitting], *counts: int) -> None:
    """Count on each phone without network, and then send one after the other."""
    for phone, count in zip(phones, counts, strict=True):
        cut(phone.page.context)
        phone.count(count)
    for phone in phones:
        join(phone.page.context)
        phone.everything_is_sent()
    phones[0].page.reload()
    phones[0].everything_is_sent()


@pytest.mark.usefixtures("without_worker")
def test_two_phones_that_counted_apart_ask_where_the_sock_is_and_the_list_of_pairs_tells(
    two: list[Knitting], server: Server, link: str
) -> None:
    counted_apart(two, 3, 5)
    for phone, place in zip(two, (3, 5), strict=True):
        phone.is_at(place)
        expect(phone.page.get_by_role("alert")).to_contain_text("Where is sock 1?")
        expect(
            phone.page.get_by_role("button", name=re.compile(rf"^Cuff, round {place} of \d+ counted here"))
        ).to_be_visible()
        expect(
            phone.page.get_by_role("button", name=re.compile(rf"^Cuff, round {8 - place} of \d+ counted on the other"))
        ).to_be_visible()
    assert sorted(server.counted(link)) == [1, 1, 2, 2, 3, 3, 4, 5]
    one, other = two
    one.page.goto("/")
    question = one.page.locator(".pair-question")
    expect(question).to_have_text("A question is open: sock 1 was counted on two devices apart.")
    question.tap()
    one.page.get_by_role("button", name="Cuff, round 5 of").tap()
    one.is_at(5)
    one.everything_is_sent()
    expect(one.page.get_by_role("alert")).to_have_count(0)
    other.count()
    other.everything_is_sent()
    expect(other.page.get_by_role("alert")).to_contain_text(re.compile(r"Cuff, round 6 of \d+ counted here"))
    other.page.get_by_role("button", name="Cuff, round 6 of").tap()
    other.everything_is_sent()
    expect(other.page.get_by_role("alert")).to_have_count(0)
    one.page.reload()
    one.is_at(6)
    expect(one.page.get_by_role("alert")).to_have_count(0)
    assert [entry.kind for entry in server.entries(link)].count("go") == 2
    one.page.goto("/")
    expect(one.page.locator(".pair-place")).to_contain_text("Sock 1: cuff, round 7 of")
    expect(question).to_have_text("")


@pytest.mark.usefixtures("without_worker")
def test_a_phone_follows_another_that_went_on_from_its_place_and_none_is_asked_at_the_same_round(
    two: list[Knitting],
) -> None:
    one, other = two
    one.count(3)
    one.everything_is_sent()
    other.page.reload()
    other.is_at(3)
    other.count(2)
    other.everything_is_sent()
    one.page.reload()
    one.is_at(5)
    expect(one.page.get_by_role("alert")).to_have_count(0)

    counted_apart(two, 2, 2)
    for phone in two:
        phone.count()
        phone.everything_is_sent()
        phone.is_at(8)
        expect(phone.page.get_by_role("alert")).to_have_count(0)


def test_what_was_sent_twice_because_the_answer_was_lost_is_kept_once(
    knitting: Knitting, server: Server, link: str
) -> None:
    page = knitting.page
    knitting.works_without_network()
    knitting.everything_is_sent()
    sent: list[list[str]] = []

    def note(request: Request) -> None:
        sent.append([entry["id"] for entry in json.loads(request.post_data or "")["entries"]])

    def lose_the_answer(route: Route) -> None:
        note(route.request)
        if len(sent) == 1:
            assert len(route.fetch().json()["kept"]) == 1
        route.abort("connectionreset")

    page.route("**/log", lose_the_answer)
    with page.expect_event("requestfailed"):
        knitting.count()
    expect(page.locator("#kept")).to_contain_text("1 not yet sent")
    assert server.counted(link) == [1]
    with page.expect_request("**/log") as again:
        page.unroute("**/log")
    note(again.value)
    knitting.everything_is_sent()
    assert len(sent[0]) == 1
    assert sent[0] == sent[-1]
    assert server.counted(link) == [1]


def test_a_weighing_waits_for_the_network_and_the_page_of_the_yarn_follows(knitting: Knitting, link: str) -> None:
    page = knitting.page
    knitting.works_without_network()
    page.goto(f"/pair/{link}/yarn")
    expect(page.get_by_role("button", name="Weigh the yarn")).to_be_visible()
    page.wait_for_load_state("networkidle")
    page.context.set_offline(True)
    page.reload()
    page.get_by_role("button", name="Weigh the yarn").tap()
    page.get_by_label("Grams left").fill("73")
    page.get_by_role("button", name="Keep it").tap()
    expect(page.locator("#yarn-news")).to_contain_text("kept on this device")
    page.context.set_offline(False)
    weighed = re.compile(r"^73\sg, between 72\sg and 74\sg")
    expect(page.locator(".figure-value").first).to_have_text(weighed, timeout=RETRY)


LONG_NOTES = """async ([remarks, link, text]) => {
    const { keepRemark } = await import(remarks);
    for (let note = 0; note < 100; note += 1) await keepRemark(link, "note", { text: `${note} ${text}` });
}"""


@pytest.mark.parametrize("letter", ["x", "🧶"] if fully() else ["🧶"])
def test_many_long_notes_are_sent(page: Page, server: Server, link: str, letter: str) -> None:
    knitting = Knitting(page, link).open()
    knitting.works_without_network()
    page.context.set_offline(True)
    page.evaluate(LONG_NOTES, [Modules(page).address("pair/remarks"), link, letter * 490])
    page.context.set_offline(False)
    page.reload()
    knitting.everything_is_sent()
    assert len(server.entries(link)) == 100


@pytest.mark.usefixtures("without_worker", "own_phone")
def test_a_full_logbook_is_reported_and_not_tried_again_and_again(page: Page, link: str) -> None:
    """Unlike a server that can take nothing at the moment. The same of a page that sends behind the scenes."""
    sent: list[str] = []
    unavailable = {"error": "unavailable", "message": "The logbook cannot be written."}
    full = {"error": "too-large", "message": "The logbook of this pair is full."}
    refusal: dict[str, Any] = {}

    def refuse(route: Route) -> None:
        sent.append(route.request.url)
        route.fulfill(**refusal)

    def tried_again() -> bool:
        before = len(sent)
        page.clock.run_for(300_000)
        # What the clock has set going takes the same steps as this, and began earlier.
        with pytest.raises(Error, match=refusal["json"]["message"]):
            modules.call("pair/sync", "exchange", link)
        return len(sent) > before + 1

    page.clock.install()
    knitting = Knitting(page, link).open()
    knitting.count()
    knitting.everything_is_sent()
    page.route("**/log", lambda route: route.abort())
    knitting.count()
    modules = Modules(page)
    page.route("**/log", refuse)
    for status, answer, again in ((503, unavailable, True), (413, full, False)):
        refusal |= {"status": status, "json": answer}
        page.goto(f"/pair/{link}/knit")
        expect(page.locator("#kept")).to_contain_text(f"1 not yet sent. {answer['message']}")
        assert tried_again() is again
        with page.expect_response(lambda got: got.url.endswith("/log") and got.frame.url.endswith(link)):
            page.goto(f"/pair/{link}")
        assert tried_again() is again
