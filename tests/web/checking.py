"""A gauge check as a browser makes it: the counts, the result, an option taken."""

from __future__ import annotations

import re
from collections.abc import Mapping

from werkzeug.test import TestResponse

from ..conftest import Browser


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
