"""Every number that was calculated opens to the sum behind it, on the pages that tell what a check or try-on means."""

from __future__ import annotations

import pytest

from ..conftest import Browser, entry
from .checking import LOOSE, counted, result_of
from .folds import NUMBER, Folds
from .pair.changing.test_second_sock import changed
from .pair.changing.test_try_on import page as fit_page
from .pair.changing.test_try_on import tried
from .pair.test_yarn import kept, weighing

ROUNDS = {"rounds_1": "38", "rounds_over_1": "10"}


def every_number_opens(page: str) -> Folds:
    found = Folds(page)
    assert found.unexplained() == []
    for fold in found.folds:
        assert NUMBER.search(fold), fold
    return found


MADE: list[dict[str, str]] = [
    {},
    {"direction": "toe-up", "heel": "short-row"},
    {"direction": "toe-up", "heel": "flap"},
    {"heel": "short-row with gusset", "toe": "short-row"},
    {"heel": "afterthought", "toe": "round"},
]
PLACES = [0, 40, 85, 120]
STITCHES = ["27", "29", "30", "33"]
CHECKED = [
    (made, place, STITCHES[(number + at) % len(STITCHES)])
    for number, made in enumerate(MADE)
    for at, place in enumerate(PLACES)
]
"""Every two of a construction, a place and a count meet."""


@pytest.mark.parametrize(("made", "place", "stitches"), CHECKED)
def test_on_the_page_of_a_check(browser: Browser, made: dict[str, str], place: int, stitches: str) -> None:
    link = browser.make_pair(**made)
    if place:
        counted(browser, link, place)
    form = {**LOOSE, **(ROUNDS if place > 40 else {}), "stitches_1": stitches, "round": str(place)}
    answer = result_of(browser, link, form)
    assert answer.status_code == 200
    found = every_number_opens(answer.text)
    assert any(fold.startswith(f"{stitches}.") or f"{stitches} stitches over 10 cm" in fold for fold in found.folds)


def test_on_the_page_of_a_check_in_inches(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    form = {**LOOSE, "unit": "in", "stitches_1": "28", "stitches_over_1": "4"}
    every_number_opens(result_of(browser, link, form).text)


def test_a_change_opens_to_both_its_sums(browser: Browser, link: str) -> None:
    counted(browser, link, 40)
    page = result_of(browser, link, {**LOOSE, **ROUNDS}).text
    changes = [fold for fold in Folds(page).folds if ", before" in fold]
    assert len(changes) > 10
    for fold in changes:
        assert "Before:" in fold
        assert "After:" in fold


@pytest.mark.parametrize("where", ["cuff", "leg", "heel", "instep", "foot", "toe"])
@pytest.mark.parametrize("feels", ["tight", "loose"])
@pytest.mark.parametrize("made", [{}, {"direction": "toe-up"}], ids=["cuff-down", "toe-up"])
def test_on_the_page_of_a_try_on(browser: Browser, made: dict[str, str], feels: str, where: str) -> None:
    link = browser.make_pair(**made)
    counted(browser, link, 40)
    tried(browser, link, 50, f"{feels} {where}")
    page = fit_page(browser, link)
    assert f"{feels.capitalize()} at the {where}" in page
    every_number_opens(page)


def test_on_the_page_of_sock_two(browser: Browser, link: str) -> None:
    changed(browser, link)
    found = every_number_opens(browser.get(f"/pair/{link}/second").text)
    assert sum("stitches in the leg" in fold for fold in found.folds) == 3


HALF = {"direction": "toe-up", "leg_until": "half the yarn"}


@pytest.mark.parametrize("weighed", [False, True])
@pytest.mark.parametrize(
    ("grams", "made"), [(20, {}), (50, {}), (70, {}), (100, {}), (50, {"direction": "toe-up"}), (100, HALF)]
)
def test_on_the_page_of_the_yarn(browser: Browser, grams: int, made: dict[str, str], weighed: bool) -> None:
    link = browser.make_pair(grams=str(grams), **made)
    if weighed:
        kept(browser, link, weighing(1, grams, 0), entry(2, kind="go", round=30), weighing(3, grams - 6, 30))
    every_number_opens(browser.get(f"/pair/{link}/yarn").text)


def test_on_the_page_of_two_yarns(browser: Browser) -> None:
    chart = {"colour_pattern": "chart", "chart": "AB\nBA", "yarn_count": "2"}
    link = browser.make_pair(metres_per_100g="400", grams_b="20", **chart)
    every_number_opens(browser.get(f"/pair/{link}/yarn").text)
