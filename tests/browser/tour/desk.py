"""The way to the first page, the plan form and the plan."""

from __future__ import annotations

import json
import re

from playwright.sync_api import Page, expect

from ..knitting import Knitting
from .way import Way

UNKNOWN = "A" * 22
"""A link as good as any, that opens nothing."""


def _first_page(page: Page, _link: str) -> None:
    page.goto("/")
    expect(page.locator("#no-pairs")).to_be_visible()


def _knit(page: Page, link: str) -> None:
    Knitting(page, link).open()


def _first_page_with_pairs(page: Page, link: str) -> None:
    Knitting(page, link).is_complete()
    page.goto("/")
    expect(page.locator("#pairs li")).to_have_count(1)


def _form(page: Page, _link: str) -> None:
    page.goto("/plan")


def _form_filled_in(page: Page, _link: str) -> None:
    page.goto("/plan?sample=ismene")
    for group in page.locator("details.group > summary:visible").all():
        group.click()
    page.get_by_text("Parts in another yarn").click()
    expect(page.locator("#choices input:checked")).to_have_count(1)


def _form_with_a_chart(page: Page, _link: str) -> None:
    """The chart of a sample with a stitch that makes long floats, and the ring round the square painted last."""
    page.goto("/plan?sample=sorrel")
    for title in ("Yarn", "Pattern"):
        page.locator("summary", has=page.get_by_text(title, exact=True)).click()
    page.get_by_role("gridcell", name="round 8, stitch 2: B").focus()
    page.keyboard.press("a")
    expect(page.locator(".remarks li")).to_have_count(1)


def _form_with_stripes(page: Page, _link: str) -> None:
    page.goto("/plan?sample=ilex")
    page.locator("summary", has=page.get_by_text("Pattern", exact=True)).click()
    expect(page.locator("#chart-preview")).to_be_visible()


def _form_in_inches(page: Page, _link: str) -> None:
    page.goto("/plan?sample=tove&unit=in")


def _form_with_feet(page: Page, _link: str) -> None:
    page.goto("/plan?sample=ismene")
    page.get_by_text("Keep this foot").click()
    for name in ("Ada", "Wilhelmine from the third floor"):
        page.locator("#foot-name").fill(name)
        page.get_by_role("button", name="Keep", exact=True).click()
        expect(page.locator("#feet-said")).to_contain_text(name)
    page.get_by_text("Rename, forget or save").click()
    page.get_by_text("Start from a shoe size").click()
    page.locator("[name=shoe_size]").fill("38")
    page.get_by_role("button", name="Fill in the foot").click()
    expect(page.locator("#shoe-said")).to_contain_text("This is a guess")


def _form_with_gauges(page: Page, _link: str) -> None:
    """Two gauges that pairs have taught, one of them with a long name."""
    page.evaluate("(kept) => localStorage.setItem('tapeline-gauges', kept)", json.dumps(GAUGES))
    page.goto("/plan?sample=ismene")
    page.get_by_role("button", name=re.compile("^four-ply, heather on 2.25 mm: ")).click()
    expect(page.locator("#gauges-said")).to_contain_text("Filled in")


GAUGES = {
    name: {
        "yarn": yarn,
        "needle_mm": 2.25,
        "checks": 3,
        "at": "2025-11-03T19:30:00Z",
        "stitches": {"per_10cm": 31.2, "give_or_take": 0.4},
        "rounds": {"per_10cm": 43.4, "give_or_take": 0.6},
    }
    for name, yarn in (("one", "four-ply, heather"), ("other", "Handspun wool and silk from the harbour market"))
}


def _form_refused(page: Page, _link: str) -> None:
    page.goto("/plan")
    page.locator("[name=ball_circumference]").fill("230")
    page.locator("[name=stitches]").fill("thirty")
    page.get_by_role("button", name="Make the plan").click()
    expect(page.locator("#errors")).to_be_focused()


def _plan(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}")


def _make_it(page: Page) -> None:
    """The plan of what the form says, whose yarns have colours."""
    page.get_by_role("button", name="Make the plan").click()
    expect(page.locator(".sock-fabric").first).to_be_visible()


def _delete_a_pair(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}")
    page.get_by_role("link", name="Delete this pair").click()
    expect(page.get_by_role("button", name="Delete this pair")).to_be_visible()


def _pair_deleted(page: Page, _link: str) -> None:
    page.get_by_role("button", name="Delete this pair").click()
    expect(page.get_by_text("The pair was deleted")).to_be_visible()


def _plan_with_stripes(page: Page, _link: str) -> None:
    _make_it(page)


def _plan_with_a_chart(page: Page, _link: str) -> None:
    plan_with_a_chart(page)


def plan_with_a_chart(page: Page) -> None:
    page.goto("/plan?sample=sorrel")
    _make_it(page)


def _yarns_of_a_chart(page: Page, _link: str) -> None:
    page.get_by_role("link", name="Yarn left").click()
    expect(page.get_by_text("How long the leg may become")).to_be_visible()


def _plan_in_inches(page: Page, link: str) -> None:
    page.goto(f"/pair/{link}?unit=in")


def _pattern(page: Page, _link: str) -> None:
    page.get_by_role("link", name="Written pattern").click()
    expect(page.get_by_role("heading", name="Directions")).to_be_visible()


def _unknown(page: Page, _link: str) -> None:
    page.goto(f"/pair/{UNKNOWN}")


def _unknown_knit(page: Page, _link: str) -> None:
    page.goto(f"/pair/{UNKNOWN}/knit")
    expect(page.get_by_role("heading", name="There is nothing here")).to_be_visible()


def _knit_shell(page: Page, _link: str) -> None:
    page.goto("/knit")
    expect(page.locator("#section")).to_have_text("No pair")


DESK: list[Way] = [
    {
        "first page": _first_page,
        "plan": _plan,
        "plan in inches": _plan_in_inches,
        "pattern": _pattern,
        "knit": _knit,
        "first page with pairs": _first_page_with_pairs,
    },
    {"form": _form, "form refused": _form_refused},
    {
        "form filled in": _form_filled_in,
        "form with feet": _form_with_feet,
        "form with gauges": _form_with_gauges,
        "form in inches": _form_in_inches,
    },
    {
        "form with stripes": _form_with_stripes,
        "plan with stripes": _plan_with_stripes,
        "form with a chart": _form_with_a_chart,
        "plan with a chart": _plan_with_a_chart,
        "yarns of a chart": _yarns_of_a_chart,
    },
    {"delete a pair": _delete_a_pair, "pair deleted": _pair_deleted},
    {"unknown link": _unknown, "unknown link to knit": _unknown_knit, "knit without a pair": _knit_shell},
]
