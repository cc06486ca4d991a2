"""A phone scans the code that carries a plan: the plan is on the screen, and the server has not heard of it."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import Page, expect

from companion.pair.plan_code import plan_letters
from companion.planning import read_request
from companion.resources import SAMPLE_PROJECTS

from ..conftest import field
from ..used_phone import PLAIN

pytestmark = pytest.mark.usefixtures("without_worker")


def test_a_scanned_plan_fills_in_the_form_and_is_sent_only_then(page: Page) -> None:
    wanted, _ = read_request(json.loads((SAMPLE_PROJECTS / "ilex.json").read_bytes()))
    assert wanted is not None
    letters = plan_letters(wanted, "in")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(f"{request.url} {request.post_data or ''}"))
    page.goto(f"/handed-on#{letters}")
    expect(page.get_by_role("heading", name=wanted.title)).to_be_visible()
    assert all(wanted.title not in each and "ball_circumference" not in each for each in asked)
    page.get_by_role("button", name="Open the plan").tap()
    expect(field(page, "title")).to_have_value(wanted.title)
    expect(page.get_by_text("Filled in from the code")).to_be_visible()
    page.get_by_role("button", name="Make the plan").tap()
    expect(page).to_have_url(re.compile("/pair/"))


def test_a_code_that_is_not_whole_says_so(page: Page) -> None:
    for behind in ("", "#cm.", "#cm.AAAA", "#MJQX", "#cm.MZXW6YTBOI"):
        page.goto(PLAIN)  # another fragment alone would open no page
        page.goto(f"/handed-on{behind}")
        expect(page.get_by_text("This code is not whole.")).to_be_visible()
        expect(page.get_by_role("button", name="Open the plan")).to_be_hidden()
