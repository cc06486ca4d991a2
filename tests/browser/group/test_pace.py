"""The knit page counts rounds a day as the server does, whatever clock the phone is on."""

from __future__ import annotations

import random
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from itertools import product
from typing import Any

import pytest
from playwright.sync_api import Page

from companion.group.stages import day_at, paces
from companion.pair.logbook import SOCKS, Sock
from companion.planning.plan.design import Design, Stage
from companion.words import day_words

pytestmark = pytest.mark.usefixtures("without_worker")

ZONES = (
    "UTC", "Europe/Berlin", "America/St_Johns", "Asia/Kathmandu", "Pacific/Auckland", "Pacific/Kiritimati",
    "Pacific/Pago_Pago", "America/Sao_Paulo",
)  # fmt: skip
PHONES = ("UTC", "Pacific/Auckland", "America/Los_Angeles")

# The clocks of Europe go back on the last Sunday of October and forward on the last of March (Directive 2000/84/EC).
TURNS = (datetime(2026, 3, 29, 1, tzinfo=UTC), datetime(2026, 10, 25, 1, tzinfo=UTC))


def cases() -> Iterator[tuple[str, datetime, Stage, int, int]]:
    """A zone, a moment, a stage, the rounds of its sock until it, and those done of sock 1."""
    chance = random.Random(3)
    for zone, sock in product(ZONES, SOCKS):
        for turn in TURNS:
            for _ in range(6):
                moment = turn + timedelta(minutes=chance.randint(-3 * 24 * 60, 3 * 24 * 60))
                by = moment.date() + timedelta(days=chance.randint(-2, 9))
                yield zone, moment, stage(by, sock), 60, chance.choice((0, 13, 59))
        for minutes in (-1, 0, 1):
            midnight = datetime(2026, 6, 1, tzinfo=UTC)
            yield zone, midnight + timedelta(minutes=minutes), stage(date(2026, 6, 2), sock), 60, 13


def stage(by: date, sock: Sock) -> Stage:
    return Stage(name="Leg done", sock=sock, until="leg", by=by)


def by_the_server(zone: str, moment: datetime, wanted: Stage, target: int, done: int) -> str:
    design = Design(time_zone=zone, stages=(wanted,))
    [pace] = paces(design, {1: ends(target), 2: ends(target)}, {1: done, 2: 0}, day_at(moment.isoformat(), zone))
    return f"Leg done by {day_words(wanted.by)}: {pace.words}"


def ends(leg: int) -> dict[str, int]:
    """A sock that is finished 90 rounds after its leg."""
    return {"leg": leg, "toe": leg + 90}


def by_the_phone(page: Page, asked: list[dict[str, Any]]) -> list[str]:
    found: list[str] = page.evaluate(
        """async (asked) => {
            const page = document.querySelector("[src$='/knit.js']").src;
            const { paceWords } = await import(new URL("deferred/leader-notes.js", page));
            return asked.map(({ zone, moment, by, round, sock, other, done }) => paceWords(
                { time_zone: zone, stages: [{ name: "Leg done", sock, round, other, by }] },
                sock, { 1: done, 2: 0 }, new Date(moment)));
        }""",
        asked,
    )
    return found


@contextmanager
def in_zone(page: Page, zone: str) -> Iterator[None]:
    """While the block runs, the phone's clock is in that zone."""
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setTimezoneOverride", {"timezoneId": zone})
    yield
    session.send("Emulation.setTimezoneOverride", {"timezoneId": ""})
    session.detach()


def test_the_phone_and_the_server_say_the_same(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}/knit")
    every = list(cases())
    asked = [
        {
            "zone": zone, "moment": moment.isoformat(), "by": wanted.by.isoformat(), "round": target, "done": done,
            "sock": wanted.sock, "other": target + 90 if wanted.sock == 2 else 0,
        }
        for zone, moment, wanted, target, done in every
    ]  # fmt: skip
    said = [by_the_server(*case) for case in every]
    for phone in PHONES:
        with in_zone(page, phone):
            assert page.evaluate("Intl.DateTimeFormat().resolvedOptions().timeZone") == phone
            assert by_the_phone(page, asked) == said, phone
    assert len(every) > 100
    a_zone_that_the_phone_does_not_know_gives_way_to_its_own(page)


def a_zone_that_the_phone_does_not_know_gives_way_to_its_own(page: Page) -> None:
    asked = {
        "zone": "No/Such_Zone",
        "moment": "2026-06-01T12:00:00Z",
        "by": "2026-06-02",
        "round": 60,
        "done": 0,
        "sock": 1,
    }
    assert by_the_phone(page, [asked]) == ["Leg done by Tue 2 Jun 2026: 60 rounds left, 30 a day"]
