"""A phone that trusts the computer of the house: it keeps the pages, can install them, and keeps its screen on."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Playwright

from companion.home_https.authority import AUTHORITY_FILE

from ...cli.serving import serving
from ..pages.test_every_page import found_by_axe
from ..trusting import has_all_that_https_gives, needs_certutil, trusting_phone

pytestmark = needs_certutil


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("house")


@pytest.fixture(scope="module")
def house(folder: Path) -> Iterator[str]:
    """The https address of a server whose name leads to this computer."""
    with serving(folder, "--https", "--https-port", "0", "--host", "127.0.0.1") as server:
        line = next(line for line in server.said if line.startswith("Tapeline is at "))
        found = re.search(r"https://\S+", line)
        assert found
        yield found[0]


@pytest.fixture(scope="module")
def phone_at_home(playwright: Playwright, house: str, folder: Path) -> Iterator[BrowserContext]:
    with trusting_phone(playwright, folder, folder / AUTHORITY_FILE, house) as context:
        yield context


def test_the_guide_has_no_findings_of_axe(phone_at_home: BrowserContext) -> None:
    page = phone_at_home.new_page()
    page.goto("/https")
    for fold in page.locator("summary").all():
        fold.tap()
    assert found_by_axe(page) == []


def test_a_phone_that_trusts_the_house_counts_without_network(phone_at_home: BrowserContext, house: str) -> None:
    has_all_that_https_gives(phone_at_home.new_page(), house)
