"""A group from its first link to the next group: one who leads at a desk, and five who follow her."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from playwright.sync_api import Locator, Page, expect

from companion.pair.learned_gauges import gauges_learned, undecided
from companion.pair.state import PairState
from companion.store import Store

from ...conftest import made
from ...storing import damaged
from ..checking import count, count_again
from ..conftest import NewPhone
from ..knitting import Knitting, rounds_of, section_of
from ..leading import change_design, fill_in, follow, join, make_design, sent, share, tell
from ..server import Server

DESK = {"viewport": {"width": 1280, "height": 900}, "is_mobile": False, "has_touch": False}
TABLET = {"width": 820, "height": 1180}

TITLE = "Rowan by the weir"
ZONE = "Pacific/Auckland"
GAUGE = {"stitches": "30", "rounds": "42"}

FEET = {
    "Wiebke": {"unit": "in inches", "ball_circumference": "9", "foot_length": "12 1/4"},
    "Ortrun": {"ball_circumference": "22.5", "foot_length": "24.5"},
    "Tomke": {"ball_circumference": "17", "foot_length": "17"},
    "Hauke": {"ball_circumference": "25", "foot_length": "27", "stitches": "32", "heel_diagonal": "34"},
    "Jorun": {"ball_circumference": "23", "foot_length": "25"},
}
"""Wiebke reads inches and has mistyped a 10. Ortrun has a tablet, Tomke a child's foot, Jorun two phones; Hauke goes
where there is no network."""

RIGHT_LENGTH = "10 1/4"

LONG_AGO = timedelta(days=9)
"""Longer than the week after which somebody may be stuck."""


@dataclass(frozen=True)
class Group:
    """The leader's page, the address that she hands out, and the knit page of each follower by her name."""

    server: Server
    desk: Page
    leaders_page: str
    address: str
    knitting: Mapping[str, Knitting]

    def seen(self, name: str) -> Locator:
        """What the leader sees now of one who shares."""
        self.desk.goto(f"{self.leaders_page}/group")
        return self.row(name)

    def row(self, name: str) -> Locator:
        """The same on the page that she has open."""
        return self.desk.locator(".people tbody tr", has=self.desk.get_by_role("rowheader", name=name))

    def state(self, name: str) -> PairState:
        """The pair of a follower, as the server has it."""
        with self.server.store() as store:
            pair = store.find_pair(self.knitting[name].link)
            assert pair
            known = store.log_digest(pair)
            return PairState(pair.title, pair.unit, store.revisions(pair), known.ends, known.entries)


def in_days(days: int) -> str:
    """The day in so many days, where the leader is."""
    return (datetime.now(UTC).astimezone(ZoneInfo(ZONE)).date() + timedelta(days=days)).isoformat()


def test_a_group_from_the_first_link_to_the_next_group(new_phone: NewPhone, server: Server) -> None:
    group = joined_by_five(new_phone, server)
    a_mistyped_foot_is_corrected(group)
    each_shares(group)
    second_phone = Knitting(new_phone(server, worker=False), group.knitting["Jorun"].link)
    two_phones_knit_one_pair(group, second_phone)
    gauges_are_checked(group)
    something_is_told_where_there_is_no_network(group)
    day_and_leg_are_changed(group)
    a_stage_is_reached(group)
    one_may_be_stuck(group)
    one_is_looked_at_and_stops_sharing(group)
    the_group_ends(group)
    the_next_group_begins(group)


def joined_by_five(new_phone: NewPhone, server: Server) -> Group:
    """Each by the same link, with a foot of her own; a child's leg is shorter in proportion.

    Wiebke and Hauke fill the form in, the others send what it would. Only Hauke's phone will be without network, and
    has a worker for that.
    """
    desk = new_phone(server, worker=False, **DESK)
    address = make_design(desk, TITLE, own="leg length", time_zone=ZONE, stage_by_1=in_days(3), leg_length="14")
    leaders_page = desk.url.partition("?")[0]
    knitting = {}
    for name, foot in FEET.items():
        page = new_phone(server, worker=name == "Hauke", **(TABLET if name == "Ortrun" else {}))
        make = join if name in ("Wiebke", "Hauke") else follow
        knitting[name] = Knitting(page, make(page, address, **{**GAUGE, **foot}))
    group = Group(server, desk, leaders_page, address, knitting)
    # By hand: 17 of the 22 cm below which a foot is a child's, of 14 cm, is 10.8, to the next half 11.
    assert [group.state(name).plan(1).request.leg.length_cm for name in ("Hauke", "Tomke")] == [14, 11]
    around = {name: rounds_of(one.data(), 1)[0]["after"] for name, one in knitting.items()}
    assert around["Tomke"] < around["Ortrun"] < around["Hauke"]
    return group


def a_mistyped_foot_is_corrected(group: Group) -> None:
    """Before the cast-on the corrected plan takes the place of the other: no ghost of a pair is in the group."""
    page = group.knitting["Wiebke"].page
    page.get_by_role("link", name="Change this plan").click()
    expect(page.locator("[name=foot_length]")).to_have_value("12 1/4")
    fill_in(page, foot_length=RIGHT_LENGTH)
    page.get_by_role("button", name="Change the plan").click()
    expect(page.get_by_text("The plan was changed.")).to_be_visible()
    # By hand: 10 1/4 in are 26.04 cm.
    assert round(group.state("Wiebke").plan(1).request.foot.length_cm, 1) == 26.0
    group.desk.goto(group.leaders_page)
    expect(group.desk.get_by_text("5 pairs made from this design.")).to_be_visible()


def each_shares(group: Group) -> None:
    """Nobody is on the leader's page before she says so herself, Wiebke and Ortrun by a tap."""
    group.desk.get_by_role("link", name="How the group is doing").click()
    expect(group.desk.get_by_role("heading", level=1)).to_have_text("How the group is doing")
    expect(group.desk.get_by_text("Nobody shares yet.")).to_be_visible()
    for name, knitting in group.knitting.items():
        if name not in ("Wiebke", "Ortrun"):
            sent(knitting.page, f"/pair/{knitting.link}/share", {"first_name": name})
            continue
        knitting.page.goto(f"/pair/{knitting.link}")
        # The browser can fill it in (WCAG 2.2, success criterion 1.3.5).
        expect(knitting.page.locator("#first_name")).to_have_attribute("autocomplete", "given-name")
        share(knitting.page, name, size=name == "Wiebke")
    expect(group.seen("Wiebke")).to_contain_text(re.compile(r"\d+ stitches, [\d.]+ cm round"))
    expect(group.row("Tomke")).to_contain_text("not begun")
    expect(group.row("Tomke")).to_contain_text("not shared")
    expect(group.desk.locator(".people tbody tr")).to_have_count(5)


def two_phones_knit_one_pair(group: Group, second: Knitting) -> None:
    """What one counts is where the other goes on."""
    first = group.knitting["Jorun"].open()
    has_the_pace(first, days=4)
    first.count(3)
    first.everything_is_sent()
    second.open()
    second.is_at(3)
    second.count(2)
    second.everything_is_sent()
    first.open()
    first.is_at(5)
    expect(group.seen("Jorun")).to_contain_text("cuff")


def has_the_pace(knitting: Knitting, days: int, done: int = 0) -> None:
    """Rounds left to the end of the leg, and a day. The days are counted in the leader's zone, today among them."""
    leg = section_of(knitting.data(), 1, "leg")
    left = leg["first"] + leg["count"] - done
    expect(knitting.page.locator("#pace")).to_contain_text(f"{left} rounds left, {-(-left // days)} a day")


def gauges_are_checked(group: Group) -> None:
    """One knits as planned, one looser and has not decided: the leader sees of both what follows from their counts."""
    for name, stitches, far in (("Tomke", 30, 0.9), ("Ortrun", 27, 0.6)):
        knitting = group.knitting[name].open()
        leg = section_of(knitting.data(), 1, "leg")
        knitting.go_to_round(leg["first"] + int(far * leg["count"]))
        knitting.everything_is_sent()
        knitting.page.get_by_role("link", name="Gauge check").click()
        count(knitting.page, str(stitches), "42")
        if stitches == 27:
            count_again(knitting.page, stitches, 42)
        expect(knitting.page.get_by_text("Your gauge so far")).to_be_visible()
        state = group.state(name)
        learned = gauges_learned(state)
        assert learned
        assert undecided(state, learned[0]) == (stitches == 27)
        row = group.seen(name)
        expect(row).to_contain_text(f"30 assumed, {learned[0].plain.stitches.per_10cm:.3g} found")
        expect(row.get_by_text("plan not changed")).to_have_count(int(stitches == 27))
    expect(group.desk.get_by_role("link", name="1 with a gauge to decide on")).to_be_visible()


def something_is_told_where_there_is_no_network(group: Group) -> None:
    """A phone that has heard of it shows it without a network too, with note and pace, and counts on."""
    group.desk.goto(group.leaders_page)
    tell(group.desk, "We meet by the weir on Thursday.")
    hauke = group.knitting["Hauke"].open()
    hauke.works_without_network()
    hauke.count()
    hauke.everything_is_sent()
    hauke.page.context.set_offline(True)
    hauke.page.reload()
    hauke.is_ready()
    told = hauke.page.locator("#announcement")
    expect(told).to_contain_text("We meet by the weir on Thursday.")
    told.get_by_role("button", name="Seen").tap()
    expect(told).to_have_count(0)
    expect(hauke.page.locator("#pace")).to_contain_text("Leg done by")
    hauke.go_to_section("Heel flap")
    expect(hauke.page.locator("#leader-note")).to_have_text("Slip the first stitch of every row.")
    expect(hauke.page.locator("#pace")).to_have_text("")


def day_and_leg_are_changed(group: Group) -> None:
    """Who has not begun takes the shorter leg for both socks, who has begun for the rest of them or not at all."""
    group.desk.goto(group.leaders_page)
    change_design(group.desk, leg_length="12", note_leg="Take it slowly.", stage_by_1=in_days(6))
    who_has_not_begun_takes_it_over(group, group.knitting["Wiebke"].open())
    who_has_begun_takes_it_over_for_the_rest(group.knitting["Jorun"])
    who_is_in_the_leg_leaves_her_plan_as_it_is(group.knitting["Ortrun"].open())
    assert group.state("Tomke").plan(1).request.leg.length_cm == 11, "nothing is changed that nobody has taken over"


def who_has_not_begun_takes_it_over(group: Group, wiebke: Knitting) -> None:
    page = wiebke.page
    expect(page.locator("#length")).to_have_text("0 in")
    expect(page.get_by_role("link", name="see what would be different")).to_be_visible()
    page.goto(f"/pair/{wiebke.link}")
    expect(page.get_by_text("A stage was changed: “Leg done”")).to_be_visible()
    page.get_by_role("link", name="See what would be different").tap()
    expect(page.locator(".changes summary", has_text="Leg length")).to_contain_text("before 5 1/2 in, after 4 3/4 in")
    page.get_by_role("button", name="Take it over").tap()
    expect(page.get_by_text("Your pair is planned by the changed design.")).to_be_visible()
    assert [group.state("Wiebke").plan(sock).request.leg.length_cm for sock in (1, 2)] == [12, 12]


def who_has_begun_takes_it_over_for_the_rest(jorun: Knitting) -> None:
    """What is knitted stays as it is."""
    page, before = jorun.page, jorun.data()
    page.goto(f"/pair/{jorun.link}")
    page.get_by_role("link", name="See what would be different").tap()
    expect(page.get_by_text("For both socks, after round 5")).to_be_visible()
    expect(page.locator(".changes summary", has_text="Leg length")).to_contain_text("after 12 cm")
    assert plans(jorun.data()) == plans(before), "nothing changes until it is taken"
    page.get_by_role("button", name="Take it over").tap()
    page.wait_for_url(f"**/pair/{jorun.link}")
    after = jorun.data()
    assert rounds_of(after, 1)[:5] == rounds_of(before, 1)[:5]
    legs = [section_of(after, sock, "leg")["count"] for sock in (1, 2)]
    assert legs[0] == legs[1] < section_of(before, 1, "leg")["count"]
    jorun.open()
    jorun.is_at(5)
    has_the_pace(jorun, days=7, done=5)
    expect(page.get_by_role("link", name="see what would be different")).to_have_count(0)
    jorun.go_to_section("Leg")
    expect(page.locator("#leader-note")).to_have_text("Take it slowly.")


def plans(data: dict[str, Any]) -> list[Any]:
    """What both socks are knitted by."""
    return [data["socks"], data["scripts"]]


def who_is_in_the_leg_leaves_her_plan_as_it_is(ortrun: Knitting) -> None:
    page = ortrun.page
    has_the_pace(ortrun, days=7, done=ortrun.place())
    page.goto(f"/pair/{ortrun.link}/design")
    expect(page.get_by_text(re.compile("For both socks, after round"))).to_be_visible()
    page.get_by_role("button", name="Leave my plan as it is").tap()
    expect(page.get_by_text("The changed design waits below")).to_be_visible()
    ortrun.open()
    expect(page.get_by_role("link", name="see what would be different")).to_have_count(0)


def a_stage_is_reached(group: Group) -> None:
    """Counted without a network, it is known as soon as there is one."""
    expect(group.seen("Hauke")).to_contain_text("none yet")
    hauke = group.knitting["Hauke"]
    hauke.page.context.set_offline(False)
    hauke.everything_is_sent()
    expect(group.seen("Hauke")).to_contain_text("Leg done")
    with hauke.page.expect_response("**/seen"):
        hauke.open()  # what was put away meanwhile is passed on
    hauke.page.goto(f"/pair/{hauke.link}")
    expect(hauke.page.locator(".stages")).to_contain_text("done")
    expect(hauke.page.get_by_text("We meet by the weir")).to_have_count(0)


def one_may_be_stuck(group: Group) -> None:
    """Wiebke has joined and knitted some rounds longer than a week ago, and a stage is due."""
    group.desk.goto(f"{group.leaders_page}/group")
    expect(group.desk.get_by_role("link", name="0 perhaps stuck")).to_be_visible()
    then = datetime.now(UTC) - LONG_AGO
    assert isinstance(group.server.place, Path)
    with closing(Store(group.server.place, lambda: then)) as store:
        pair = store.find_pair(group.knitting["Wiebke"].link)
        assert pair
        damaged(group.server.place, "UPDATE pairs SET created = ? WHERE id = ?", store.moment(), pair.id)
        store.add_entries(pair, [made(4, kind="go")])
    expect(group.seen("Wiebke")).to_contain_text("perhaps stuck")
    group.desk.get_by_role("link", name="1 perhaps stuck").click()
    expect(group.desk.locator(".people tbody tr")).to_have_count(1)


def one_is_looked_at_and_stops_sharing(group: Group) -> None:
    """All are listed by how much of their pairs is knitted: the leg of a child's sock is more of it than another's."""
    group.desk.goto(f"{group.leaders_page}/group")
    names = group.desk.locator(".people tbody").get_by_role("rowheader")
    expect(names).to_have_text([re.compile(name) for name in ("Wiebke", "Jorun", "Ortrun", "Hauke", "Tomke")])
    group.desk.get_by_role("link", name="Ortrun: sock 1, leg").click()
    expect(group.desk.locator(".people tbody tr")).to_have_count(1)
    expect(group.desk.get_by_role("rowheader", name="Ortrun")).to_be_visible()
    page = group.knitting["Ortrun"].page
    page.goto(f"/pair/{group.knitting['Ortrun'].link}")
    page.get_by_role("button", name="Stop sharing").tap()
    expect(page.get_by_text("off: the leader sees nothing of this pair")).to_be_visible()
    expect(group.seen("Ortrun")).to_have_count(0)
    expect(group.desk.locator(".people tbody tr")).to_have_count(4)


def the_group_ends(group: Group) -> None:
    """Nobody joins any more, and who has joined knits on."""
    group.desk.goto(group.leaders_page)
    group.desk.get_by_role("button", name="End the group").click()
    expect(group.desk.get_by_text("This group ended on")).to_be_visible()
    expect(group.desk.get_by_role("link", name="Change the design")).to_have_count(0)
    page = group.knitting["Wiebke"].page
    page.goto(group.address)
    expect(page.get_by_text("This group has ended")).to_be_visible()
    expect(page.get_by_role("button", name="Make my plan")).to_have_count(0)
    jorun = group.knitting["Jorun"].open()
    jorun.count()
    jorun.everything_is_sent()
    jorun.page.goto(f"/pair/{jorun.link}")
    expect(jorun.page.get_by_text("The group has ended; your pair goes on as it is.")).to_be_visible()


def the_next_group_begins(group: Group) -> None:
    """The same sock under links of its own, without those who followed before."""
    group.desk.get_by_role("button", name="Copy for the next group").click()
    expect(group.desk.get_by_text("This is a copy, under a link of its own, without followers.")).to_be_visible()
    expect(group.desk.get_by_text("Nobody has made a pair from this design yet.")).to_be_visible()
    new_address = group.desk.locator("[data-title]").get_attribute("data-link") or ""
    assert re.fullmatch(r".*/join/[\w-]{22}", new_address)
    assert new_address != group.address
    page = group.knitting["Tomke"].page
    join(page, new_address, **FEET["Tomke"], **GAUGE)
    expect(page.get_by_text(f"Planned from the design “{TITLE}”.")).to_be_visible()
    group.desk.goto(group.leaders_page)
    expect(group.desk.get_by_text("5 pairs made from this design.")).to_be_visible()
