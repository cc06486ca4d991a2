"""A gauge check as a browser makes it: the counts, the result, an option taken."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from werkzeug.test import TestResponse

from ..conftest import Browser, entry

LOOSE = {"unit": "cm", "stitches_1": "27", "stitches_over_1": "10", "sock": "1", "round": "40"}
"""A count that is looser than the plan's 30 stitches by more than counting can be off by, in the leg."""


def counted(browser: Browser, link: str, place: int, **changes: Any) -> None:
    """Go to a round of a sock."""
    answer = browser.post_json(f"/pair/{link}/log", {"entries": [entry(place, kind="go", **changes)]})
    assert len(answer.get_json()["kept"]) == 1


def data(browser: Browser, link: str) -> dict[str, Any]:
    """The pair but for what a check adds to the logbook and to what is known of the yarn, and where the next pays."""
    found: dict[str, Any] = browser.get(f"/pair/{link}/pair.json").get_json()
    return {key: value for key, value in found.items() if key not in {"cursor", "clock", "learned", "check_at"}}


def instructions_of(found: dict[str, Any], sock: int) -> list[Any]:
    """What a sock's rounds say, one after the other."""
    script = found["scripts"][found["socks"][sock - 1]["script"]]
    return [script["instructions"][number] for number in script["rounds"]]


def result_of(browser: Browser, link: str, form: Mapping[str, str]) -> TestResponse:
    """Send the counts, and open what they mean."""
    answer = browser.post(f"/pair/{link}/check", form)
    assert answer.status_code == 303, answer.text
    return browser.get(answer.headers["Location"])


def take(browser: Browser, link: str, option: str, form: Mapping[str, str], **changes: str) -> TestResponse:
    """Send the counts, and take one of the ways to go on as the result's page would."""
    basis = re.search(r'name="basis" value="(\w+)"', result_of(browser, link, form).text)
    assert basis
    sent = {"sock": form["sock"], "round": form["round"], "basis": basis[1], "option": option}
    return browser.post(f"/pair/{link}/check/accept", {**sent, **changes})


AGAIN = {
    **{f"{what}_{spot}": count for what, count in (("stitches", "27"), ("stitches_over", "10")) for spot in (1, 2, 3)},
    **{key: LOOSE[key] for key in ("unit", "sock", "round")},
}
"""The three more spots that are asked for before a change is advised: they say the same."""


def sure_result_of(browser: Browser, link: str, form: Mapping[str, str]) -> TestResponse:
    """Send the counts and those of three more spots, and open what they mean."""
    result_of(browser, link, form)
    return result_of(browser, link, {**AGAIN, **{key: form[key] for key in ("sock", "round")}})


def accept(browser: Browser, link: str, option: str, **changes: str) -> int:
    """Count looser than planned, and take one of the ways to go on; returns the status of the answer."""
    return take(browser, link, option, {**LOOSE, **changes}).status_code
