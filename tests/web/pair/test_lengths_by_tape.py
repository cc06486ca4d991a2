"""A length by tape in the logbook counts where a gauge check does."""

from __future__ import annotations

import pytest

from ...conftest import Browser, entry


def result(browser: Browser, link: str, cm: float, sock: int = 1) -> str:
    """What a length of 40 rounds of the leg means there."""
    log = [
        entry(1, kind="go", round=58, sock=sock),
        entry(2, kind="length", round=58, sock=sock, data={"cm": cm, "from": "section"}),
    ]
    assert browser.post_json(f"/pair/{link}/log", {"entries": log}).status_code == 200
    return browser.get(f"/pair/{link}/check/result?sock={sock}&round=58").text


@pytest.mark.parametrize("sock", [1, 2])
def test_a_length_far_from_the_plan_asks_for_a_count(browser: Browser, link: str, sock: int) -> None:
    text = result(browser, link, 8.0, sock)
    # 40 rounds over 8 cm are 50 over 10 cm, where 42 were planned.
    assert "40 rounds of the leg are" in text
    assert "three more places, then we know." in text


def test_a_length_as_planned_changes_nothing(browser: Browser, link: str) -> None:
    # 40 rounds at 42 over 10 cm are 9.5 cm.
    assert "As planned. Knit on" in result(browser, link, 9.5)


def test_a_misread_length_does_not_count(browser: Browser, link: str) -> None:
    assert "rounds of the leg are" not in result(browser, link, 2.5)
