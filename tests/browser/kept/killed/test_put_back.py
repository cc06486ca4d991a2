"""A server that lost what it was told: phones send it again, and a pair that it does not know is put back by a tap."""

from __future__ import annotations

import json
import re
import time
from pathlib import Path

import pytest
from playwright.sync_api import Page, Response, Route, expect

from companion.cli.data_folder import FILE_NAME

from ....storing import copied, damaged
from ...conftest import NewPhone
from ...knitting import ALL_SENT, RETRY, Knitting, until
from ...server import Server
from .test_apart import KEPT

NAMES = KEPT.replace('get("device")', "getAllKeys()").replace(
    "resolve([device.result, entries.result])", "resolve(device.result)"
)
"""What lies beside the pairs, by its names."""

HERE = "Kept on this device."
UNKNOWN = "The server does not know this pair any more"


class Copy:
    """A copy of the server's file, to be put back later."""

    def __init__(self, server: Server, to: Path) -> None:
        self._server = server
        self._copy = to
        self._file = server.folder / FILE_NAME
        copied(self._file, to)

    def put_back(self, *, new_epoch: bool) -> None:
        """Put it in place of the server's file; with a `new_epoch`, as when the program restores it."""
        self._server.kill()
        for file in self._file.parent.glob(f"{FILE_NAME}*"):
            file.unlink()
        copied(self._copy, self._file)
        if new_epoch:
            damaged(self._file, "DELETE FROM meta WHERE name = 'epoch'")
        self._server.start()


@pytest.fixture
def one(knitting: Knitting) -> Knitting:
    """A pair on a phone."""
    knitting.everything_is_sent()
    return knitting


@pytest.fixture
def two(one: Knitting, new_phone: NewPhone, server: Server) -> list[Knitting]:
    """The same pair on two phones, the other of them without a worker."""
    other = Knitting(new_phone(server, worker=False), one.link).open()
    other.everything_is_sent()
    return [one, other]


def entries_on(knitting: Knitting) -> list[str]:
    """The ids of a phone's entries, all of which it holds to be sent."""
    _, entries = knitting.page.evaluate(KEPT)
    assert {entry["sent"] for entry in entries} <= {1}
    return sorted(entry["id"] for entry in entries)


def has(knitting: Knitting, entries: int) -> None:
    """Wait until the phone has that many entries and holds them all to be sent."""
    sent = f"([, entries]) => entries.length === {entries} && entries.every(({{ sent }}) => sent === 1)"
    until(knitting.page, f"async () => ({sent})(await ({KEPT})())")


def asks_again(knitting: Knitting) -> None:
    """Have an open page ask the server at once, as it does when a network is back."""
    knitting.page.evaluate("dispatchEvent(new Event('online')) && undefined")


def server_has(server: Server, knitting: Knitting, places: list[int]) -> None:
    """Wait until the server's disk has entries of those places and no others."""
    end = time.monotonic() + RETRY / 1000
    while (found := server.counted(knitting.link)) != places:
        assert time.monotonic() < end, found
        knitting.page.wait_for_timeout(20)


def keeps_the_plans(page: Page) -> None:
    """Wait until every plan of the pair is kept on the phone."""
    until(page, f"async () => (await ({NAMES})()).some((name) => name[0] === 'plans')")


@pytest.mark.usefixtures("without_worker")
@pytest.mark.parametrize("new_epoch", [True, False], ids=["by the program", "as a plain copy"])
def test_two_phones_send_again_what_the_earlier_file_lacks(
    two: list[Knitting], server: Server, tmp_path: Path, *, new_epoch: bool
) -> None:
    one, other = two
    one.count(2)
    one.everything_is_sent()
    copy = Copy(server, tmp_path / "copy")
    one.count(3)
    one.everything_is_sent()
    asks_again(other)
    other.is_at(5)
    other.count(2)
    other.everything_is_sent()
    assert server.counted(one.link) == [1, 2, 3, 4, 5, 6, 7]
    copy.put_back(new_epoch=new_epoch)
    assert server.counted(one.link) == [1, 2]

    for phone in two:
        phone.open()
    server_has(server, one, [1, 2, 3, 4, 5, 6, 7])
    asks_again(one)
    has(one, 7)
    one.is_at(7)
    one.count()
    one.everything_is_sent()
    asks_again(other)
    other.is_at(8)
    has(other, 8)
    on_server = sorted(entry.id for entry in server.entries(one.link))
    assert entries_on(one) == entries_on(other) == on_server
    for phone in two:
        expect(phone.page.get_by_role("alert")).to_have_count(0)


@pytest.mark.usefixtures("without_worker")
def test_an_open_page_sends_again_with_its_next_count(one: Knitting, server: Server, tmp_path: Path) -> None:
    copy = Copy(server, tmp_path / "copy")
    one.count(3)
    one.everything_is_sent()
    copy.put_back(new_epoch=True)
    one.count()
    expect(one.page.locator("#kept p").first).to_have_text(ALL_SENT, timeout=RETRY)
    assert server.counted(one.link) == [1, 2, 3, 4]


@pytest.mark.usefixtures("without_worker")
def test_a_plan_that_the_earlier_file_does_not_know_is_reported(one: Knitting, server: Server, tmp_path: Path) -> None:
    copy = Copy(server, tmp_path / "copy")
    with server.store() as store:
        pair = store.find_pair(one.link)
        assert pair
        [first] = store.revisions(pair)
        store.add_revision(pair, first, "{}", "rest")
    one.count()
    expect(one.page.locator("#kept")).to_contain_text("The rest of the plan has changed.")
    copy.put_back(new_epoch=True)
    one.count()
    expect(one.page.locator("#kept")).to_contain_text("The server has an earlier plan again.", timeout=RETRY)
    server_has(server, one, [1, 2])  # the answer to the first message has all of it sent again with a second


def forgets(server: Server) -> None:
    """Have the server know nothing of any pair any more."""
    server.kill()
    for file in server.folder.glob(f"{FILE_NAME}*"):
        file.unlink()
    server.start()


def test_a_pair_that_the_server_lost_counts_on_and_is_put_back_by_a_tap(two: list[Knitting], server: Server) -> None:
    one, other = two
    one.count(3)
    one.everything_is_sent()
    asks_again(other)
    other.is_at(3)
    other.count()
    other.everything_is_sent()
    keeps_the_plans(one.page)
    forgets(server)

    one.open()
    one.is_at(3)
    page = one.page
    expect(page.locator("#kept")).to_have_text(HERE)
    one.count(2)
    expect(page.locator("#kept")).to_have_text(HERE)
    expect(page.locator("#put-back")).to_contain_text(UNKNOWN)
    with server.store() as store:
        assert store.find_pair(one.link) is None, "nothing is put back without a tap"
    page.get_by_role("button", name="Put it back").tap()
    one.everything_is_sent()
    expect(page.locator("#put-back")).to_have_count(0)
    assert server.counted(one.link) == [1, 2, 3, 4, 5]

    other.open()
    has(other, 6)
    asks_again(one)
    has(one, 6)
    for phone in two:
        expect(phone.page.locator("#put-back")).to_have_count(0)
    assert sorted(server.counted(one.link)) == [1, 2, 3, 4, 4, 5]
    on_server = sorted(entry.id for entry in server.entries(one.link))
    assert entries_on(one) == entries_on(other) == on_server


def learns_nothing_until_it_asks(page: Page) -> None:
    """Keep the phone from hearing of the pair before its own offer to put it back is taken."""
    asked: list[Route] = []

    def ask(route: Route) -> None:
        asked.append(route)
        route.fallback()

    page.context.route("**/put-back", ask)
    page.context.route("**/log", lambda route: route.fallback() if asked else route.abort())


def sends_counts(answer: Response) -> bool:
    return answer.url.endswith("/log") and '"kind":"count"' in (answer.request.post_data or "")


def test_a_pair_that_another_phone_put_back_first_is_joined(two: list[Knitting], server: Server) -> None:
    one, other = two
    other.count(2)
    other.everything_is_sent()
    for phone in two:
        keeps_the_plans(phone.page)
    forgets(server)
    for phone in two:
        phone.open()
        expect(phone.page.locator("#put-back")).to_have_count(1)
    learns_nothing_until_it_asks(other.page)
    one.page.get_by_role("button", name="Put it back").tap()
    with other.page.expect_response(sends_counts):  # it may hear earlier that the pair is known again
        other.page.get_by_role("button", name="Put it back").tap()
    for phone in two:
        phone.everything_is_sent()
        expect(phone.page.locator("#put-back")).to_have_count(0)
    assert server.counted(one.link) == [1, 2]


@pytest.mark.usefixtures("without_worker")
def test_without_a_worker_a_lost_pair_opens_too_and_says_that_its_plan_was_never_kept(
    page: Page, server: Server, link: str
) -> None:
    page.route(re.compile("/export$"), lambda route: route.abort())
    knitting = Knitting(page, link).open()
    knitting.count(2)
    knitting.everything_is_sent()
    forgets(server)
    knitting.open()
    knitting.is_at(2)
    expect(page.locator("#put-back")).to_contain_text(UNKNOWN)
    page.get_by_role("button", name="Put it back").tap()
    expect(page.locator("#put-back")).to_contain_text("was never kept here as a whole")
    knitting.count()


def test_a_pair_is_exported_without_network_with_what_was_counted_since(
    one: Knitting, server: Server, new_phone: NewPhone, tmp_path: Path
) -> None:
    page = one.page
    keeps_the_plans(page)
    page.context.set_offline(True)
    one.count(3)
    one.open_menu()
    with page.expect_download() as download:
        page.get_by_role("link", name="Export the pair").tap()
    assert download.value.suggested_filename == "ismene-high-instep.tapeline.json"
    download.value.save_as(tmp_path / "pair.json")
    assert len(json.loads((tmp_path / "pair.json").read_text())["log"]) == 3
    page.goto("/")
    page.get_by_label("More: Ismene").tap()
    with page.expect_download() as again:
        page.get_by_role("link", name="Export: Ismene").tap()
    assert again.value.path().read_bytes() == (tmp_path / "pair.json").read_bytes()

    stranger = new_phone(server, worker=False)
    stranger.goto("/")
    stranger.get_by_text("Import a pair from a file").tap()
    stranger.get_by_label("A file that was exported").set_input_files(tmp_path / "pair.json")
    stranger.get_by_role("button", name="Import").tap()
    expect(stranger.get_by_text("Sock 1: 3 of")).to_be_visible()
