"""A large group: all are counted at once, and listed one by one in parts."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path
from unittest.mock import patch

import pytest

from companion.pair.revisions import Revision
from companion.store import Store
from companion.store.standings import Standing
from companion.web.group import shared_progress as people

from ...conftest import Browser, entry
from ...storing import rows
from ..checking import accept
from ..designing import join, lead
from .test_overview import rows as followers_shown
from .test_overview import seen, share

OVER_BOTH_DATABASES = True

ON_A_PAGE = 3


@pytest.fixture
def few_on_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("companion.web.group.overview.MOST_ON_A_PAGE", ON_A_PAGE)


def group_of(browser: Browser, number: int) -> tuple[str, list[str]]:
    """A leader's link, and those of followers who share, each a part further than the one before."""
    leader = lead(browser)
    pairs = [join(browser, leader) for _ in range(number)]
    for place, pair in enumerate(pairs):
        share(browser, pair, f"Ortrun {place + 1}")
        at(browser, pair, 30 * place)
    return leader, pairs


def at(browser: Browser, pair: str, place: int, clock: int = 1, sock: int = 1) -> None:
    moved = entry(clock, kind="go", round=place, sock=sock)
    assert browser.post_json(f"/pair/{pair}/log", {"entries": [moved]}).get_json()["kept"]


def part(browser: Browser, leader: str, query: str) -> str:
    return browser.get(f"/design/{leader}/group{query}").text


def counted(page: str, sock: int) -> dict[str, int]:
    """How many are where, as the page counts them."""
    [found] = re.findall(rf"<h3>Sock {sock}</h3>(.*?)</div>", page, re.DOTALL)
    return {where: int(count) for where, count in re.findall(r"<li>(.*?): <b>(\d+)</b>", found)}


def one_by_one(page: str) -> list[tuple[str, str]]:
    """Where both socks of each are, as the page tells them."""
    return re.findall(r'<th scope="row">[^<]*</th><td>([^<]*)</td><td>([^<]*)</td>', page)


@pytest.mark.usefixtures("few_on_a_page")
def test_each_is_listed_once_in_the_parts_that_lead_to_each_other(browser: Browser) -> None:
    leader, _ = group_of(browser, 8)
    names, query = [], ""
    while True:
        page = part(browser, leader, query)
        assert "8 of 8" in page
        assert sum(counted(page, 1).values()) == 8
        assert len(followers_shown(page)) <= ON_A_PAGE
        names += re.findall(r"Ortrun (\d+)<", page)
        onward = re.search(r'href="(\?[^"#]*)#people-title">Later ones', page)
        if not onward:
            break
        query = onward[1].replace("&amp;", "&")
    assert names == [str(number) for number in range(1, 9)]
    assert re.findall(r"Ortrun (\d+)<", part(browser, leader, "?from=4")) == ["4", "5", "6"]
    back = re.search(r'href="(\?[^"#]*)#people-title">Earlier ones', part(browser, leader, "?from=3&unit=in"))
    assert back
    assert "unit=in" in back[1]
    assert back[1].endswith("from=1")


@pytest.mark.usefixtures("few_on_a_page")
def test_any_number_in_the_address_leads_to_a_part(browser: Browser) -> None:
    leader, _ = group_of(browser, 5)
    wanted = {"0": "1", "-3": "1", "many": "1", "": "1", "5": "5", "6": "5", "999999": "5"}
    pages = {asked: part(browser, leader, f"?from={asked}") for asked in wanted}
    assert {asked: re.findall(r"Ortrun (\d+)<", page)[0] for asked, page in pages.items()} == wanted


def test_a_small_group_is_on_one_page(browser: Browser) -> None:
    leader, _ = group_of(browser, 2)
    assert not re.search("Earlier ones|Later ones", seen(browser, leader))


def test_all_are_counted_where_each_is_told_to_be(browser: Browser) -> None:
    """Also after counts, an accepted change and one that was taken back, which are seen at once."""
    leader, pairs = group_of(browser, 7)
    at(browser, pairs[2], 40, clock=2)
    assert accept(browser, pairs[2], "rest") == 303
    at(browser, pairs[3], 40, clock=2)
    assert accept(browser, pairs[3], "rest") == 303
    assert browser.post(f"/pair/{pairs[3]}/check/undo", {"sock": "1"}).status_code == 303
    at(browser, pairs[6], 1000, clock=2)
    at(browser, pairs[6], 12, clock=3, sock=2)
    page = seen(browser, leader)
    places = one_by_one(page)
    assert len(places) == 7
    assert "finished" in dict(places)
    for number in (0, 1):
        assert counted(page, number + 1) == Counter(place[number] for place in places)
    assert page.count(" found, decided</td>") == 1
    assert len(re.findall(r'<circle class="mark" cx', page)) == 1


@pytest.mark.usefixtures("few_on_a_page")
def test_a_look_reads_no_plan_and_makes_no_more_rows_than_it_shows(browser: Browser) -> None:
    """Plans are read when a follower begins to share and when she changes hers."""
    leader, pairs = group_of(browser, 6)
    at(browser, pairs[2], 40, clock=2)
    assert accept(browser, pairs[2], "rest") == 303
    with (
        patch("companion.web.group.shared_progress.plan_summary") as reading,
        patch("companion.web.group.shared_progress._person", side_effect=people._person) as making,
    ):
        assert len(followers_shown(seen(browser, leader))) == ON_A_PAGE
    assert (reading.call_count, making.call_count) == (0, ON_A_PAGE)


def test_what_an_older_file_lacks_is_made_at_the_next_look(browser: Browser, store: Store) -> None:
    leader, _ = group_of(browser, 5)
    before = seen(browser, leader)
    with store._writing() as db:
        db.execute("DELETE FROM standings")
        db.execute("DELETE FROM glimpses WHERE pair > 2")
    with patch("companion.store.standings.MOST_AT_ONCE", 2):
        after = seen(browser, leader)
    assert one_by_one(after) == one_by_one(before)
    assert counted(after, 1) == counted(before, 1)


def test_nothing_of_a_standing_stays_when_sharing_ends(browser: Browser, store: Store, store_path: Path) -> None:
    leader, pairs = group_of(browser, 3)
    assert browser.post(f"/pair/{pairs[0]}/share/withdraw", {}).status_code == 303
    gone = store.find_pair(pairs[1])
    assert gone
    store.deleting.pair(gone)
    kept = store.find_pair(pairs[2])
    assert kept
    for table in ("standings", "parts"):
        assert rows(store_path, f"SELECT DISTINCT pair FROM {table}") == [(kept.id,)]
    assert sum(counted(seen(browser, leader), 1).values()) == 1


def test_a_standing_made_from_an_older_plan_is_not_kept(browser: Browser, store: Store) -> None:
    leader, [link] = group_of(browser, 1)
    pair = store.find_pair(link)
    assert pair
    store.add_revision(pair, Revision(1, 1, 0, 0, "Changed", store.revisions(pair)[0].plan), "", "rest")
    store.standings.keep({pair.id: Standing(1, 0, 99.0, 99.0, undecided=False, parts={1: [], 2: []})})
    assert "99" not in " ".join(followers_shown(seen(browser, leader)))
