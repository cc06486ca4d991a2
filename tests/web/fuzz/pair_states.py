"""Pairs in every state that a pair can be in, each with its links."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from companion.web.links import follower_link, new_link

from ...conftest import Browser, entry
from ..checking import LOOSE, take
from ..designing import DESIGN, change, join, keep_photo, lead, lead_too

HALF = 60
"""Rounds of sock one in a pair that is half knitted: some of the leg."""

CHART = {
    "yarn_count": "2",
    "yarn_name": "moss",
    "yarn_name_b": "sand",
    "colour_pattern": "chart",
    "chart": "ABBA\nBAAB\nAAAA",
    "swap": "y",
}


@dataclass(frozen=True)
class State:
    """A pair, or a design alone, by the kinds of its links: "pair", "leader", "follower"."""

    name: str
    links: Mapping[str, str]


def write(browser: Browser, link: str, *entries: dict[str, Any]) -> None:
    """Put entries into a pair's logbook."""
    answer = browser.post_json(f"/pair/{link}/log", {"entries": list(entries)})
    assert len(answer.get_json()["kept"]) == len(entries), answer.get_json()


def remark(number: int, kind: str, **data: Any) -> dict[str, Any]:
    """Something written down at the place of a half-knitted pair."""
    return entry(number, kind=kind, round=HALF, data=data)


def rounds_of(browser: Browser, link: str) -> list[int]:
    """The number of rounds of each sock."""
    data = browser.get(f"/pair/{link}/pair.json").get_json()
    return [len(data["scripts"][sock["script"]]["rounds"]) for sock in data["socks"]]


def begin(browser: Browser, **form: str) -> str:
    """A pair with 60 rounds of its first sock done."""
    link = browser.make_pair(**form)
    write(browser, link, entry(1, kind="go", round=HALF))
    return link


def finish(browser: Browser, link: str) -> None:
    """Count both socks to the end."""
    for sock, rounds in enumerate(rounds_of(browser, link), 1):
        write(browser, link, entry(1000 + sock, clock=1000, kind="go", sock=sock, round=rounds))


def finished(browser: Browser) -> str:
    link = browser.make_pair(grams="50")
    finish(browser, link)
    return link


def weighed_nothing(browser: Browser) -> str:
    link = finished(browser)
    write(browser, link, entry(1, clock=2000, kind="weighing", sock=2, round=5, data={"grams": 0, "yarn": "A"}))
    return link


def out_of_yarn(browser: Browser) -> str:
    link = begin(browser)
    write(browser, link, remark(2, "weighing", grams=0, yarn="A"))
    return link


def two_at_a_time(browser: Browser) -> str:
    link = begin(browser, two_at_a_time="y")
    write(browser, link, entry(2, kind="go", sock=2, round=HALF))
    return link


def exchanged(browser: Browser) -> str:
    return begin(browser, **CHART)


def changed(browser: Browser) -> str:
    link = begin(browser)
    assert take(browser, link, "here", {**LOOSE, "round": str(HALF)}).status_code == 303
    return link


def changed_and_finished(browser: Browser) -> str:
    link = changed(browser)
    finish(browser, link)
    return link


def remarked(browser: Browser) -> str:
    link = begin(browser)
    write(
        browser,
        link,
        remark(2, "note", text="Row of slipped stitches \u202e <b>"),
        remark(3, "try-on", where="leg", feels="tight"),
        remark(4, "length", cm=14, **{"from": "cast-on"}),
        remark(5, "weighing", grams=80, yarn="A"),
        remark(6, "check", stitches=[{"count": 28, "over_cm": 10}]),
    )
    return link


def counted_apart(browser: Browser) -> str:
    link = begin(browser)
    other = "bbbbbbbb-0000-4000-8000-000000000002"
    first = entry(1, kind="go", round=HALF)["id"]
    write(browser, link, entry(2, after=[first], round=HALF + 1), entry(3, device=other, after=[first], round=HALF + 9))
    return link


def with_junk(browser: Browser) -> str:
    link = begin(browser)
    browser.post_json(f"/pair/{link}/log", {"entries": [{"id": 1}, "junk", None]})
    return link


def toe_up(browser: Browser) -> str:
    return begin(browser, direction="toe-up", heel="afterthought", leg_until="half the yarn", unit="in", **INCHES)


INCHES = {"ball_circumference": "9", "foot_length": "9 3/4", "cuff_length": "1.5", "leg_length": "5 1/2"}


def alone(make: Callable[[Browser], str]) -> Callable[[Browser], dict[str, str]]:
    return lambda browser: {"pair": make(browser)}


def led(browser: Browser, **changes: str) -> dict[str, str]:
    """A design with photo and days, and the pair of a follower who has begun."""
    leader = lead(browser, **changes)
    keep_photo(browser, leader)
    pair = join(browser, leader)
    write(browser, pair, entry(1, kind="go", round=HALF))
    browser.post(f"/design/{leader}/tell", {"words": "We meet on Thursday."})
    return {"leader": leader, "follower": follower_link(leader), "pair": pair}


def shared(browser: Browser) -> dict[str, str]:
    links = led(browser)
    browser.post(f"/pair/{links['pair']}/share", {"first_name": "Wiebke", "size": "y"})
    return links


def design_changed(browser: Browser) -> dict[str, str]:
    links = led(browser)
    change(browser, links["leader"], rib="k1 p1", leg_length="12")
    return links


def waiting(browser: Browser) -> dict[str, str]:
    """A design with a change that waits for its day."""
    links = led(browser)
    later = {**DESIGN, "version": "1", "rib": "k1 p1", "reveal_on": "2025-12-06"}
    assert browser.post(f"/design/{links['leader']}/edit", later).status_code == 303
    return links


def ended(browser: Browser) -> dict[str, str]:
    """A design that two lead, whose group has ended."""
    links = led(browser)
    lead_too(browser, links["leader"])
    browser.post(f"/design/{links['leader']}/end", {})
    return links


def bare_design(browser: Browser) -> dict[str, str]:
    leader = lead(browser, also_heel="short-row")
    return {"leader": leader, "follower": follower_link(leader)}


def lost(_browser: Browser) -> dict[str, str]:
    return {"pair": new_link()}


MAKE: Mapping[str, Callable[[Browser], dict[str, str]]] = {
    "new": alone(Browser.make_pair),
    "half": alone(begin),
    "finished": alone(finished),
    "finished, weighed 0 g": alone(weighed_nothing),
    "half, weighed 0 g": alone(out_of_yarn),
    "two at a time": alone(two_at_a_time),
    "colours exchanged": alone(exchanged),
    "changed": alone(changed),
    "changed and finished": alone(changed_and_finished),
    "remarked upon": alone(remarked),
    "counted apart": alone(counted_apart),
    "with junk": alone(with_junk),
    "toe up in inches": alone(toe_up),
    "with a design": led,
    "shared": shared,
    "design changed": design_changed,
    "with a surprise": waiting,
    "led by two and ended": ended,
    "a design alone": bare_design,
    "only on a phone": lost,
}


def every_state(browser: Browser) -> list[State]:
    """One of each, newly made."""
    return [State(name, make(browser)) for name, make in MAKE.items()]
