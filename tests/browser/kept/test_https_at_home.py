"""A phone that trusts the computer of the house: it keeps the pages, can install them, and keeps its screen on."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Playwright

from companion.home_https.authority import AUTHORITY_FILE

from ...cli.test_serve import serving
from ..chromium import ARGUMENTS, PATIENCE, executable, phone
from ..knitting import Knitting
from ..pages.test_every_page import found_by_axe

pytestmark = pytest.mark.skipif(not shutil.which("certutil"), reason="certutil, by which a browser trusts, is not here")


@pytest.fixture
def house(tmp_path: Path) -> Iterator[str]:
    """The https address of a server whose name leads to this computer."""
    with serving(tmp_path, "--https", "--https-port", "0", "--host", "127.0.0.1") as (process, _):
        assert process.stdout
        line = next(line for line in process.stdout if line.startswith("Tapeline is at "))
        found = re.search(r"https://\S+", line)
        assert found
        yield found[0]


def trust(home: Path, authority: Path) -> None:
    """What the steps of the guide do on a phone: put the authority among those that the browser trusts."""
    database = home / ".pki" / "nssdb"
    database.mkdir(parents=True)
    where = ["-d", f"sql:{database}"]
    subprocess.run(["certutil", "-N", *where, "--empty-password"], check=True)
    subprocess.run(["certutil", "-A", *where, "-n", "house", "-t", "C,,", "-i", str(authority)], check=True)


@pytest.fixture
def phone_at_home(playwright: Playwright, house: str, tmp_path: Path) -> Iterator[BrowserContext]:
    trust(tmp_path / "home", tmp_path / AUTHORITY_FILE)
    context = playwright.chromium.launch_persistent_context(
        tmp_path / "profile",
        executable_path=executable(),
        args=[*ARGUMENTS, "--host-resolver-rules=MAP *.local 127.0.0.1"],
        env={"HOME": str(tmp_path / "home")},
        base_url=house,
        **phone(),
    )
    context.set_default_timeout(PATIENCE)
    yield context
    context.close()


def test_a_phone_that_trusts_the_house_counts_without_network(phone_at_home: BrowserContext, house: str) -> None:
    page = phone_at_home.new_page()
    page.goto("/sample/ismene")
    page.get_by_role("button", name="Knit it as it is").click()
    page.wait_for_url(re.compile("/pair/"))
    knitting = Knitting(page, page.url.removeprefix(f"{house}/pair/").partition("?")[0])
    knitting.open()
    knitting.count(2)
    knitting.works_without_network()
    devtools = phone_at_home.new_cdp_session(page)
    assert devtools.send("Page.getInstallabilityErrors")["installabilityErrors"] == []
    phone_at_home.set_offline(True)
    page.reload()
    knitting.is_at(2)
    knitting.count()
    assert page.evaluate("isSecureContext && 'wakeLock' in navigator")


def test_the_guide_has_no_findings_of_axe(phone_at_home: BrowserContext) -> None:
    page = phone_at_home.new_page()
    page.goto("/https")
    for fold in page.locator("summary").all():
        fold.tap()
    assert found_by_axe(page) == []
