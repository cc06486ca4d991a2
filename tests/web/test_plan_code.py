"""A plan handed on by a code: the code of a pair, and the form that is filled in from one."""

from __future__ import annotations

import re

import pytest
import zxingcpp

from ..conftest import Browser
from ..drawings.test_qr import drawn


def test_the_code_of_a_pair_keeps_its_plan_behind_the_hash(browser: Browser) -> None:
    link = browser.make_pair()
    assert f"/pair/{link}/code.svg" in browser.client.get(f"/pair/{link}").text
    answer = browser.client.get(f"/pair/{link}/code.svg?unit=in")
    assert answer.mimetype == "image/svg+xml"
    [code] = zxingcpp.read_barcodes(drawn(answer.text))
    assert re.fullmatch(r"http://localhost/handed-on#in\.[A-Z2-7]+", code.text)
    assert link not in code.text


def test_what_was_in_a_code_fills_in_the_form(browser: Browser) -> None:
    foot = '{"ball_circumference_cm":21.5,"length_cm":24}'
    given = f'{{"title":"For Ada","foot":{foot},"gauge":{{"stitches_per_10cm":31}},"cuff":{{"rib":"k3 p1"}}}}'
    answer = browser.post("/handed-on?unit=cm", {"request": given})
    assert answer.status_code == 200
    assert "Filled in from the code of “For Ada”" in answer.text
    for value in ("21.5", "24", "31", "k3 p1"):
        assert f'value="{value}"' in answer.text


@pytest.mark.parametrize("given", ["", "[]", "{", '{"foot": 1}', "NaN", '{"schema": 2}'])
def test_what_is_no_plan_is_refused_in_words(browser: Browser, given: str) -> None:
    answer = browser.post("/handed-on", {"request": given})
    assert answer.status_code == 400
    assert "That code holds no plan that can be read." in answer.text
