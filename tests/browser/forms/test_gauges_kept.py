"""The knitter's own gauge: learned on the knit page, kept in the browser, offered in the plan form."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from ...conftest import entry
from ..knitting import Knitting, until

pytestmark = pytest.mark.usefixtures("without_worker")


def check(page: Page, link: str, number: int, stitches: float) -> None:
    """A check that the logbook has got, of stitches and 44 rounds over 10 cm."""
    data = {"stitches": [{"count": stitches, "over_cm": 10}], "rounds": [{"count": 44, "over_cm": 10}]}
    kept = entry(number, kind="check", round=40, data=data)
    token = page.request.get("/csrf").json()["token"]
    sent = page.request.post(f"/pair/{link}/log", data={"entries": [kept]}, headers={"X-CSRFToken": token})
    assert sent.json()["kept"]


LEARNED = "([link, checks]) => JSON.parse(localStorage.getItem('tapeline-gauges') ?? '{}')[link]?.checks === checks"


def learn(page: Page, link: str, checks: int = 1) -> None:
    """Open the knit page and wait until the browser has learned from so many checks."""
    Knitting(page, link).open().is_complete()
    until(page, LEARNED, [link, checks])


def test_a_gauge_is_offered_from_the_first_check_on_and_fills_in(page: Page, link: str) -> None:
    page.goto("/plan")
    expect(page.locator("#gauges")).to_be_hidden()
    a_forgotten_gauge_can_be_taken_back_and_comes_with_a_new_check(page, link)
    own = page.get_by_role("button", name=re.compile(r"^four-ply, heather on 2\.25 mm: "))
    counted = r": 31(\.\d)? stitches and 44(\.\d)? rounds"
    expect(own).to_contain_text(re.compile(rf"{counted} \(2 checks, the newest on Mon 3 Nov 2025\)$"))
    page.locator("[name=foot_length]").fill("25")
    own.tap()
    expect(page.locator("[name=stitches]")).to_have_value(re.compile(r"^31(\.\d)?$"))
    expect(page.locator("[name=rounds]")).to_have_value(re.compile(r"^4[34](\.\d)?$"))
    expect(page.locator("[name=basis]")).to_have_value("measured")
    expect(page.locator("[name=needle_mm]")).to_have_value("2.25")
    expect(page.locator("[name=yarn_name]")).to_have_value("four-ply, heather")
    expect(page.locator("#gauges-said")).to_contain_text("Filled in")
    page.get_by_label("in inches").check()
    expect(own).to_contain_text(re.compile(r": 31\.\d stitches and 44\.\d rounds"))


def a_forgotten_gauge_can_be_taken_back_and_comes_with_a_new_check(page: Page, link: str) -> None:
    check(page, link, 1, 31)
    learn(page, link)
    page.goto("/plan")
    forget = page.get_by_role("button", name="Forget four-ply, heather on 2.25 mm")
    forget.tap()
    expect(page.locator("#gauges")).to_be_hidden()
    page.get_by_role("button", name="Take it back").tap()
    expect(forget).to_be_visible()
    forget.tap()
    learn(page, link)
    page.goto("/plan")
    expect(page.locator("#gauges")).to_be_hidden()
    check(page, link, 2, 31)
    learn(page, link, 2)
    page.goto("/plan")
    expect(forget).to_be_visible()


def test_a_finished_sock_tells_the_gauge_that_checks_found(page: Page, link: str) -> None:
    check(page, link, 1, 31)
    knitting = Knitting(page, link).open()
    knitting.is_complete()
    knitting.finish(1)
    expect(page.locator("#finish")).to_contain_text(
        re.compile(r"Gauge found31(\.\d)? stitches and 44 rounds over 10 cm")
    )


MEAN = """async (base) => {
    const { keepGauge, listGauges } = await import(`${base}pair/gauges.js`);
    const learned = (stitches, at) => ({ yarn: "Fog", needle_mm: 2.5, checks: 1, at, stitches, rounds: null });
    keepGauge("a", learned({ per_10cm: 30, give_or_take: 0.4 }, "2025-01-01T00:00:00Z"));
    keepGauge("b", learned({ per_10cm: 32, give_or_take: 0.8 }, "2025-02-01T00:00:00Z"));
    keepGauge("c", { ...learned({ per_10cm: 20, give_or_take: 1 }, "2025-03-01T00:00:00Z"), needle_mm: 4 });
    return listGauges();
}"""


def test_two_pairs_of_a_yarn_are_one_gauge_by_how_sure_they_are(page: Page) -> None:
    """By hand: weights 1/0.16 and 1/0.64 are 4 to 1, so (4 x 30 + 32) / 5 = 30.4, with a range that holds 32."""
    page.goto("/plan")
    base = page.locator("script[src$='/form.js']").get_attribute("src")
    assert base
    other, fog = page.evaluate(MEAN, base.removesuffix("forms/form.js"))
    assert (other["needle_mm"], fog["checks"], fog["rounds"]) == (4, 2, None)
    assert abs(fog["stitches"]["per_10cm"] - 30.4) < 1e-9
    assert abs(fog["stitches"]["give_or_take"] - 1.6) < 1e-9
