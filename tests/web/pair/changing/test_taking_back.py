"""Changes of every kind, accepted one after the other and taken back one by one, over all constructions."""

from __future__ import annotations

import re
from itertools import count
from typing import Any, NamedTuple

from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st

from companion.pair.logbook import SOCKS, Sock
from companion.pair.revisions import Revision, followed
from companion.planning import Plan, read_plan
from companion.store import Store
from companion.strict_json import read_json
from companion.web.links import new_link

from ....conftest import Browser, entry
from ....planning.asking import plan_or_leave, request_data
from ....planning.requests import requests
from ..test_yarn import make_leg

IDS = count(1)
WHERE = ("leg", "heel", "foot", "toe")


class Step(NamedTuple):
    """A sock is knitted on by a part of what is left of it, and a change is accepted there."""

    sock: Sock
    part: float
    kind: str
    off: float
    where: str
    choice: int


def steps() -> st.SearchStrategy[list[Step]]:
    """One to three; at a gauge that is up to 12 % off."""
    one = st.builds(
        Step,
        sock=st.sampled_from([1, 1, 2]),
        part=st.integers(0, 60).map(lambda part: part / 100),
        kind=st.sampled_from(["check", "check", "try-on", "leg"]),
        off=st.integers(-12, 12).map(lambda percent: 1 + percent / 100),
        where=st.sampled_from(WHERE),
        choice=st.integers(0, 3),
    )
    return st.lists(one, min_size=1, max_size=3)


class Knitted:
    """A pair as the pages show it and as the store has it."""

    def __init__(self, browser: Browser, plan: Plan) -> None:
        """A new pair with this plan."""
        self.browser = browser
        self.store: Store = browser.client.application.extensions["store"]
        self.link = new_link()
        self.pair = self.store.add_pair(self.link, plan.title, "cm", plan.model_dump_json())

    def revisions(self) -> list[Revision]:
        return self.store.revisions(self.pair)

    def plan(self, sock: Sock) -> Plan:
        plan, _ = read_plan(read_json(self.followed()[sock].encode()))
        assert plan
        return plan

    def followed(self) -> dict[Sock, str]:
        """The plan document that each sock follows, as it is kept."""
        return {sock: revision.plan for sock, revision in followed(self.revisions()).items()}

    def scripts(self) -> Any:
        """The pair's plans as its knit page has them."""
        data = self.browser.get(f"/pair/{self.link}/pair.json").get_json()
        return [[data["scripts"][sock["script"]][key] for key in ("rounds", "instructions")] for sock in data["socks"]]

    def log(self, kind: str, sock: Sock, place: int, **data: Any) -> None:
        """Write an entry as a phone does that has heard of all others, such as of a place that a change ripped to."""
        clock = self.store.highest_clock(self.pair) + 1
        written = entry(next(IDS), clock=clock, kind=kind, sock=sock, round=place, **({"data": data} if data else {}))
        assert self.browser.post_json(f"/pair/{self.link}/log", {"entries": [written]}).get_json()["kept"]

    def place(self, sock: Sock) -> int:
        return self.store.sync_state(self.pair).done[sock]

    def accept(self, step: Step) -> None:
        """Knit on, and accept a change if there is one to accept."""
        plan, done = self.plan(step.sock), self.place(step.sock)
        place = max(1, done + int(step.part * (len(plan.rounds()) - done)))
        self.log("go", step.sock, place)
        getattr(self, f"_{step.kind.replace('-', '_')}")(step, plan, place)

    def _check(self, step: Step, plan: Plan, place: int) -> None:
        stitches = plan.request.gauge.stitches_per_10cm * step.off * 2
        self.log("check", step.sock, place, stitches=[{"count": round(stitches), "over_cm": 20}])
        self._take(step, "check/result", "check/accept", place)

    def _try_on(self, step: Step, _plan: Plan, place: int) -> None:
        self.log("try-on", step.sock, place, where=step.where, feels="tight" if step.off > 1 else "loose")
        self._take(step, "fit", "fit", place)

    def _take(self, step: Step, page: str, to: str, place: int) -> None:
        text = self.browser.get(f"/pair/{self.link}/{page}?sock={step.sock}&round={place}").text
        found = re.findall(r'name="(option|choice)" value="([\w ]+)"', text)
        if found:
            basis = re.findall(r'name="basis" value="([^"]+)"', text)[0]
            name, chosen = found[step.choice % len(found)]
            sent = {"sock": str(step.sock), "round": str(place), "basis": basis, name: chosen}
            assert self.browser.post(f"/pair/{self.link}/{to}", sent).status_code == 303

    def _leg(self, step: Step, plan: Plan, _place: int) -> None:
        if "leg-form" in self.browser.get(f"/pair/{self.link}/yarn").text:
            rounds = next(len(one.rounds()) for one in plan.sections if one.key == "leg")
            answer = make_leg(self.browser, self.link, rounds=str(rounds + 2 * step.choice))
            assert answer.status_code in (303, 409, 422)

    def take_back(self) -> None:
        """Take the newest change back, once both socks are at its place again."""
        newest = self.revisions()[-1]
        for sock in SOCKS:
            if self.place(sock) > newest.done:
                self.log("go", sock, newest.done)
        answer = self.browser.post(f"/pair/{self.link}/check/undo", {"sock": str(newest.sock)})
        assert answer.status_code == 303, answer.text


def check(part: float, off: float) -> Step:
    """A check of sock one, where the first of the ways to go on is taken."""
    return Step(sock=1, part=part, kind="check", off=off, where="leg", choice=0)


FINE_TOE_UP = request_data(
    foot={"ball_circumference_cm": 12.9, "length_cm": 11},
    gauge={"stitches_per_10cm": 42.2, "rounds_per_10cm": None},
    ease={"circumference_percent": 0, "length_cm": 0},
    construction={"direction": "toe-up", "heel": "short-row", "toe": "wedge"},
    cuff={"rib": "k1 p1", "length_cm": 1},
    leg={"length_cm": 2, "until": "half the yarn"},
    yarns=[{"key": "A", "grams": 30}],
)
"""A sock that the first way after a loose check rips back."""


@settings(
    max_examples=max(12, settings().max_examples // 10),
    phases=(Phase.explicit, Phase.generate, Phase.shrink),
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(requests(), steps())
@example(FINE_TOE_UP, [check(part=0.12, off=0.89), check(part=0.44, off=1.01)])
def test_taking_changes_back_restores_the_exact_plans_before(
    browser: Browser, data: dict[str, Any], several: list[Step]
) -> None:
    pair = Knitted(browser, plan_or_leave(data))
    at_first = pair.scripts()
    before = [(pair.revisions(), pair.followed())]
    for step in several:
        pair.accept(step)
        if len(pair.revisions()) > len(before):
            before.append((pair.revisions(), pair.followed()))
    assert pair.revisions() == before[-1][0]
    for revisions, plans in before[-2::-1]:
        pair.take_back()
        assert pair.revisions() == revisions
        assert pair.followed() == plans
    assert pair.scripts() == at_first
