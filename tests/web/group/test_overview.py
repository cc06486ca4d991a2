"""The leader sees what followers share, no more, and nothing once it is taken back."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from companion.drawings.gauge_plot import gauges_svg

from ...conftest import Browser, entry
from ..checking import LOOSE, accept, counted, result_of, sure_result_of, take
from ..designing import change, join, lead


def share(browser: Browser, pair: str, first_name: str = "", **more: str) -> int:
    return browser.post(f"/pair/{pair}/share", {"first_name": first_name, **more}).status_code


def seen(browser: Browser, leader: str) -> str:
    return browser.get(f"/design/{leader}/group").text


def rows(page: str) -> list[str]:
    found = re.findall(r"<tr>(.*?)</tr>", page, re.DOTALL)[1:]
    return [" ".join(re.sub(r"<[^>]+>", " ", row).split()) for row in found]


def test_nothing_is_seen_by_default(browser: Browser) -> None:
    leader = lead(browser)
    join(browser, leader)
    page = seen(browser, leader)
    assert "0 of 1 pair shared" in page
    assert "Nobody shares yet" in page


def test_who_shares_is_seen_with_part_stage_and_gauge(browser: Browser) -> None:
    leader = lead(browser)
    pair, hidden = join(browser, leader), join(browser, leader)
    assert share(browser, pair, "Ortrun") == 303
    end = browser.get(f"/pair/{pair}/pair.json").get_json()["stages"][0]["round"]
    browser.post_json(f"/pair/{pair}/log", {"entries": [entry(1, kind="go", round=end)]})
    browser.post_json(f"/pair/{hidden}/log", {"entries": [entry(1, kind="go", round=3)]})
    [row] = rows(seen(browser, leader))
    for word in ("Ortrun", "heel flap", "not begun", "Leg done", "30 assumed", "not shared"):
        assert word in row
    assert "met" not in row


def test_a_gauge_met_is_plotted_against_the_one_assumed(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    share(browser, pair)
    counts = {"stitches_1": "27", "stitches_over_1": "10", "rounds_1": "38", "rounds_over_1": "10"}
    assert take(browser, pair, "rest", {"unit": "cm", "sock": "1", "round": "60", **counts}).status_code == 303
    page = seen(browser, leader)
    assert "30 assumed, 27 found" in rows(page)[0]
    assert "27 found where 30 was assumed" in page
    assert "27.4 found where 30.5 was assumed" in browser.get(f"/design/{leader}/group?unit=in").text


def test_a_check_counts_before_anything_is_decided_and_the_leader_sees_whose_plan_stays(browser: Browser) -> None:
    leader = lead(browser)
    pair, other = join(browser, leader), join(browser, leader)
    for one in (pair, other):
        share(browser, one)
    assert "Nobody who shares has checked" in seen(browser, leader)
    counted(browser, pair, 40)
    result_of(browser, pair, LOOSE)
    second, first = rows(seen(browser, leader))  # in the order of the sock
    found = re.search(r"30 assumed, ([\d.]+) found, plan not changed", first)
    assert found
    assert 27 <= float(found[1]) < 30, "between what was counted and what was assumed, as sure as each is"
    assert "found" not in second
    sure_result_of(browser, pair, LOOSE)
    assert "30 assumed, 27 found, plan not changed" in rows(seen(browser, leader))[1]
    assert accept(browser, pair, "rest") == 303
    assert "30 assumed, 27 found, decided" in rows(seen(browser, leader))[1]
    assert "plan not changed" not in seen(browser, leader)


def test_a_check_that_a_phone_sends_later_counts_until_it_is_taken_back(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    share(browser, pair)
    counts = {"stitches": [{"count": 27, "over_cm": 10}] * 4, "needle_mm": 2.5}
    entries = [entry(1, kind="go", round=60), entry(2, kind="check", round=60, data=counts)]
    assert browser.post_json(f"/pair/{pair}/log", {"entries": entries}).get_json()["kept"]
    assert "27 found, plan not changed" in rows(seen(browser, leader))[0]
    back = entry(3, kind="withdrawal", round=60, data={"entry": entries[1]["id"]})
    browser.post_json(f"/pair/{pair}/log", {"entries": [back]})
    assert "found" not in rows(seen(browser, leader))[0]


def test_a_check_that_agrees_leaves_nothing_to_decide(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    share(browser, pair)
    counted(browser, pair, 40)
    result_of(browser, pair, {**LOOSE, "stitches_1": "30"})
    [row] = rows(seen(browser, leader))
    assert "30 assumed, 30 found" in row
    assert "plan not changed" not in row
    assert "decided" not in row


def test_the_foot_is_never_shown_and_the_size_only_when_ticked(browser: Browser) -> None:
    """Numbers that stand for this foot alone, looked for in all that the leader can open."""
    leader = lead(browser)
    pair = join(browser, leader, ball_circumference="20.3", foot_length="22.7", heel_diagonal="29.9")
    share(browser, pair, "Ortrun")
    pages = [
        re.sub(r"<[^>]*>", " ", browser.get(f"/design/{leader}{path}").text)
        for path in ("", "/group", "/edit", "/card")
    ]
    assert not any(number in page for page in pages for number in ("20.3", "22.7", "29.9"))
    assert " round" not in rows(seen(browser, leader))[0]
    share(browser, pair, "Ortrun", size="y")
    [row] = rows(seen(browser, leader))
    assert re.search(r"\d+ stitches, [\d.]+ cm round", row)
    assert not any(number in row for number in ("20.3", "22.7", "29.9"))


def test_what_is_taken_back_is_gone_from_the_page_and_the_file(browser: Browser, store_path: Path) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    share(browser, pair, "Ortrun-Annegret", size="y")
    assert "Ortrun-Annegret" in seen(browser, leader)
    assert browser.post(f"/pair/{pair}/share/withdraw", {}).status_code == 303
    assert "Nobody shares yet" in seen(browser, leader)
    assert "Ortrun-Annegret" not in browser.get(f"/pair/{pair}").text
    for path in store_path.parent.iterdir():
        assert b"Ortrun-Annegret" not in path.read_bytes()


def test_taking_back_what_was_never_shared_does_no_harm(browser: Browser) -> None:
    pair = join(browser, lead(browser))
    assert browser.post(f"/pair/{pair}/share/withdraw", {}).status_code == 303


@pytest.mark.parametrize(("name", "status"), [("x" * 40, 303), ("x" * 41, 400), ("\0", 400), ("  ", 303)])
def test_a_name_is_short_or_none(browser: Browser, name: str, status: int) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    assert share(browser, pair, name) == status
    assert ("somebody" in seen(browser, leader)) == (status == 303 and not name.strip())


def test_a_name_is_text_and_no_markup(browser: Browser) -> None:
    leader = lead(browser)
    share(browser, join(browser, leader), "<b>Ortrun</b>")
    assert "&lt;b&gt;Ortrun&lt;/b&gt;" in seen(browser, leader)


@pytest.mark.parametrize("damage", ["UPDATE revisions SET plan = '{}'", "DELETE FROM revisions"])
def test_a_plan_that_no_longer_reads_leaves_the_others_in_sight(browser: Browser, damage: str) -> None:
    leader = lead(browser)
    damaged, sound = join(browser, leader), join(browser, leader)
    store = browser.client.application.extensions["store"]
    with store._writing() as db:
        db.execute(
            "INSERT INTO shares (pair, first_name, size) VALUES (?, 'Wiebke', 0)", (store.find_pair(damaged).id,)
        )
        db.execute(f"{damage} WHERE pair = ?", (store.find_pair(damaged).id,))
    share(browser, sound, "Ortrun")
    page = seen(browser, leader)
    assert "Ortrun" in page
    assert "Wiebke" not in page


def test_a_stage_taken_away_is_not_shown_any_more(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    share(browser, pair)
    change(browser, leader, stage_name_1="", stage_by_1="")
    assert "Leg done" not in seen(browser, leader)


def test_the_gauges_of_a_large_group_fall_together_and_all_are_counted() -> None:
    gauges = {(24 + assumed / 2, 22 + met / 10): 7 for assumed in range(20) for met in range(100)}
    found = str(gauges_svg(gauges))
    marks = re.findall(r'<circle class="mark"', found)
    assert 10 <= len(marks) <= 60
    assert sum(int(times) for times in re.findall(r"\((\d+) times\)", found)) == 7 * len(gauges)


def test_marks_lie_on_the_slanted_line_where_the_gauge_came_out_as_assumed() -> None:
    found = str(gauges_svg({(30, 30): 1, (30, 28): 1, (30.01, 28): 1}))
    line = re.search(r'class="same" d="M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)"', found)
    assert line
    x0, y0, x1, y1 = map(float, line.groups())
    marks = [tuple(map(float, mark)) for mark in re.findall(r'cx="([\d.]+)" cy="([\d.]+)"', found)]
    assert len(marks) == 2, "those that fall together are one"
    on, below = sorted((x - x0) / (x1 - x0) - (y - y0) / (y1 - y0) for x, y in marks)
    assert on == pytest.approx(0, abs=0.01), "met as assumed"
    assert below > 0.1, "looser knitting"
    assert ">2</text>" in found
    assert "28 found where 30 was assumed (2 times); 30 found where 30 was assumed." in found
