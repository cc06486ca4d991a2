"""The leader's roster: where everybody is along the sock, who is behind, who may be stuck, and who has to decide."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from companion.drawings.group_sock import group_sock_svg
from companion.drawings.outline import outline_of
from companion.pair.logbook import Sock
from companion.pair.progress import PairProgress, PlaceOnSock, bit
from companion.planning import make_plan
from companion.planning.plan.design import USUAL_FOOT, USUAL_GAUGE, Design, Stage, request_for
from companion.store import Store
from companion.store.seats import Asked, Crowd, Member
from companion.web.group.roster import Roster, marks

from ...conftest import Browser, entry
from ..checking import LOOSE, counted, result_of
from ..designing import join, lead
from .test_follower import knit_to
from .test_overview import rows, seen, share

OVER_BOTH_DATABASES = True

TODAY = date(2025, 11, 3)
NOW = "2025-11-03T12:00:00+00:00"
ENDS = {"cuff": 20, "leg": 80, "heel": 110, "gusset": 130, "foot": 180, "toe": 200}
LEG = Stage(name="Leg done", until="leg", by=TODAY - timedelta(days=1))
PAIR = Stage(name="Pair done", sock=2, until="toe", by=TODAY + timedelta(days=5))


ROSTER = Roster(Design(stages=(PAIR, LEG), time_zone="Europe/Berlin"), TODAY)


def member(one: int = 0, two: int = 0, last: str | None = NOW, way: str = "cuff-down") -> Member:
    done: dict[Sock, int] = {1: one, 2: two}
    return Member(1, "Ortrun", False, PairProgress(done, {"1": ENDS, "2": ENDS}, way), last)


@pytest.mark.parametrize(
    ("one", "two", "last", "behind", "stuck"),
    [
        (0, 0, NOW, "Leg done", False),
        (79, 0, "2025-10-27T23:00:00+00:00", "Leg done", False),  # midnight in Berlin, six days ago
        (79, 0, "2025-10-27T22:59:59+00:00", "Leg done", True),
        (80, 0, NOW, None, False),
        (200, 199, "2025-10-27T12:00:00+00:00", None, True),
        (200, 200, "2025-08-25T12:00:00+00:00", None, False),
        (79, 0, None, "Leg done", False),
    ],
)
def test_who_is_behind_and_who_may_be_stuck(
    one: int, two: int, last: str | None, behind: str | None, stuck: bool
) -> None:
    """Behind: the day is over and the part is not. Stuck: no round for seven days, and a stage is due in seven."""
    found = member(one, two, last)
    stage = ROSTER.behind(found)
    assert (stage.name if stage else None, ROSTER.stuck(found)) == (behind, stuck)


def test_the_orders_of_the_list(browser: Browser, store: Store) -> None:
    leader = lead(browser, stage_by_1="2025-11-02")
    followers = (("Wiebke", 100, 0, 2), ("Femke", 1000, 10, 1), ("", 5, 0, None), ("\u00d6rt%", 0, 0, 3))
    for number, (name, one, two, day) in enumerate(followers, 1):
        pair = join(browser, leader)
        share(browser, pair, name)
        knit_to(browser, pair, one, two)
        heard = day and f"2025-11-0{day}T10:00:00+00:00"
        with store._writing() as db:
            db.execute("UPDATE seats SET heard = ? WHERE pair = ?", (heard, number))
    table = Roster(Design(stages=(LEG,)), TODAY)
    due = table.due

    def names(order: str, **asked: str) -> list[str]:
        count, found = store.seats.listed(1, Asked(order, **asked), due, 1, 10)
        assert count == len(found)
        return [one.name for one in found]

    assert names("place") == names("junk") == ["\u00d6rt%", "", "Wiebke", "Femke"]
    assert names("name") == ["Femke", "Wiebke", "\u00d6rt%", ""]
    assert names("joined") == ["Wiebke", "Femke", "", "\u00d6rt%"]
    assert names("last") == ["Femke", "Wiebke", "\u00d6rt%", ""]
    assert names("place", name="EMK") == ["Femke"]
    assert names("place", name="\u00f6RT") == names("place", name="%") == ["\u00d6rt%"]
    assert names("place", name="_") == []
    assert names("place", need="behind") == ["\u00d6rt%", ""]
    assert names("place", at="2-cuff-2") == ["Femke"]
    assert names("place", at="junk") == []
    everybody = store.seats.listed(1, Asked(), due, 1, 10)[1]
    assert store.seats.needs(1, due) == {
        "behind": sum(table.behind(one) is not None for one in everybody), "stuck": 0, "gauge": 0,
    }  # fmt: skip


@pytest.mark.parametrize(
    ("one", "two", "way", "word"),
    [
        (0, 0, "cuff-down", None),
        (1, 0, "cuff-down", "1-cuff-0"),
        (50, 0, "cuff-down", "1-leg-2"),
        (79, 0, "cuff-down", "1-leg-4"),
        (80, 0, "cuff-down", "1-heel-0"),  # as the list has it: the next round is one of the heel
        (200, 0, "cuff-down", "1-toe-4"),
        (200, 50, "cuff-down", "2-leg-2"),
        (999, 999, "cuff-down", "2-toe-4"),
        (35, 0, "toe-up", "1-leg-3"),  # a quarter knitted from below
    ],
)
def test_a_place_is_the_part_and_how_far_down_that(one: int, two: int, way: str, word: str | None) -> None:
    place = member(one, two, way=way).along.place
    assert (place.word if place else None) == word
    assert place is None or PlaceOnSock.read(place.word) == place


def test_a_sock_without_a_gusset_has_reached_it_with_its_heel() -> None:
    short_row = {part: end for part, end in ENDS.items() if part != "gusset"}
    for done, reached in ((109, False), (110, True)):
        along = PairProgress({1: done, 2: 0}, {"1": short_row, "2": short_row}, "cuff-down")
        assert bool(along.reached & bit(1, "gusset")) is reached


def test_the_marks_lie_on_the_sock_in_the_order_of_its_parts() -> None:
    """Down the leg and then along the foot, as it is knitted from the cuff; two at one place are one mark."""
    plan = make_plan(request_for(Design(), USUAL_FOOT, USUAL_GAUGE))
    crowds = [
        Crowd("1-toe-2", 1, ["F"]), Crowd("1-foot-2", 1, ["E"]), Crowd("1-heel-3", 1, ["D"]),
        Crowd("1-cuff-2", 1, ["A"]), Crowd("1-leg-2", 2, ["BB", "CCC"]),
    ]  # fmt: skip
    found = marks(crowds, lambda at: f"?at={at}")
    assert [mark.who for mark in found] == [
        "A: sock 1, cuff", "BB, CCC: sock 1, leg", "D: sock 1, heel", "E: sock 1, foot", "F: sock 1, toe",
    ]  # fmt: skip
    drawn = str(group_sock_svg(plan, found))
    at = [(float(x), float(y)) for x, y in re.findall(r'<a [^>]*transform="translate\(([\d.]+) ([\d.]+)\)"', drawn)]
    cuff, leg, heel, foot, toe = at
    assert cuff[1] < leg[1] < heel[1]
    assert heel[0] < foot[0] < toe[0]
    sock = outline_of(plan)
    scale = leg[0] / sock.side
    assert cuff[1] / scale <= sock.cuff_end <= leg[1] / scale <= sock.leg_end
    assert foot[1] == toe[1] == pytest.approx(sock.middle * scale, abs=0.1)
    assert drawn.count("<a ") == 5
    assert ">2</text>" in drawn
    assert "<b>" not in str(group_sock_svg(plan, marks([Crowd("1-leg-2", 1, ["<b>x"])], str)))


def test_seven_at_one_place_are_named_in_part() -> None:
    [mark] = marks([Crowd("1-leg-2", 7, ["A", "B", "C", "D", ""])], str)
    assert mark.who == "A, B, C, D, somebody and 2 more: sock 1, leg"


def roster(browser: Browser, leader: str, query: str = "") -> str:
    return browser.get(f"/design/{leader}/group{query}").text


def test_the_roster_says_who_needs_the_leader_and_finds_them(browser: Browser) -> None:
    """The tests' clock stands at Monday 3 November 2025; the day of the stage is over since Sunday."""
    leader = lead(browser, stage_by_1="2025-11-02", also_heel="short-row")
    behind, there = join(browser, leader), join(browser, leader, construction="1")
    for pair, name, place in ((behind, "Femke", 30), (there, "Wiebke", 100)):
        share(browser, pair, name)
        knit_to(browser, pair, place)
    counted(browser, there, 120)
    result_of(browser, there, {**LOOSE, "round": "120"})
    page = roster(browser, leader)
    assert re.findall(r"<b>(\d+)</b> ([a-z ]+)</a>", page) == [
        ("1", "behind"), ("0", "perhaps stuck"), ("1", "with a gauge to decide on"),
    ]  # fmt: skip
    first, second = rows(page)
    assert "Femke" in first
    assert "behind Leg done" in first
    assert "Mon 3 Nov 2025" in first
    assert "short-row heel" in second
    assert "behind" not in second
    for query, name in (("?need=behind", "Femke"), ("?need=gauge", "Wiebke"), ("?name=wieb", "Wiebke")):
        [row] = rows(roster(browser, leader, query))
        assert name in row
    mark = re.search(r'href="(\?unit=cm&amp;at=1-[a-z]+-\d)#people-title" aria-label="Femke: sock 1, leg"', page)
    assert mark
    [row] = rows(roster(browser, leader, mark[1].replace("&amp;", "&")))
    assert "Femke" in row
    assert "Nobody who shares fits this" in roster(browser, leader, "?name=x")
    assert rows(roster(browser, leader, "?name=x")) == []


def test_who_decided_to_knit_on_as_it_is_has_nothing_to_decide(browser: Browser) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    share(browser, pair, "Femke")
    counted(browser, pair, 40)
    result_of(browser, pair, LOOSE)
    assert "plan not changed" in roster(browser, leader, "?need=gauge")
    decided = entry(99, clock=99, kind="decision", round=40, data={"way": "as it is"})
    assert browser.post_json(f"/pair/{pair}/log", {"entries": [decided]}).get_json()["kept"]
    assert rows(roster(browser, leader, "?need=gauge")) == []
    assert "found, decided" in roster(browser, leader)
    assert "plan not changed" not in roster(browser, leader)


def test_the_day_of_a_round_is_seen_only_where_it_was_shared_knowingly(browser: Browser, store: Store) -> None:
    leader = lead(browser)
    pair = join(browser, leader)
    share(browser, pair, "Femke")
    with store._writing() as db:
        db.execute("UPDATE shares SET days = 0")  # as from before it was among what is shared
    [row] = rows(seen(browser, leader))
    assert "Mon 3 Nov 2025" not in row
    share(browser, pair, "Femke")
    assert "Mon 3 Nov 2025" in rows(seen(browser, leader))[0]
