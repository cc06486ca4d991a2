"""A phone that trusts more authorities than others do, as its owner told it to, and what it trusts."""

from __future__ import annotations

import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright

from .chromium import ARGUMENTS, PATIENCE, executable, phone
from .knitting import Knitting

needs_certutil = pytest.mark.skipif(
    not shutil.which("certutil"), reason="certutil, by which a browser trusts, is not here"
)


@contextmanager
def trusting_phone(playwright: Playwright, folder: Path, authorities: list[Path]) -> Iterator[BrowserContext]:
    """A phone with a folder of its own, for which names of a house and this computer's own lead to this computer."""
    database = folder / "home" / ".pki" / "nssdb"
    database.mkdir(parents=True)
    where = ["-d", f"sql:{database}"]
    subprocess.run(["certutil", "-N", *where, "--empty-password"], check=True)
    for number, file in enumerate(authorities):
        subprocess.run(["certutil", "-A", *where, "-n", f"house {number}", "-t", "C,,", "-i", str(file)], check=True)
    context = playwright.chromium.launch_persistent_context(
        folder / "profile",
        executable_path=executable(),
        args=[*ARGUMENTS, "--host-resolver-rules=MAP *.local 127.0.0.1"],
        env={"HOME": str(folder / "home")},
        **phone(),
    )
    context.set_default_timeout(PATIENCE)
    yield context
    context.close()


def has_all_that_https_gives(page: Page, address: str) -> None:
    """Knit a sample there: the page is kept and counts without network, may be installed, and may stay awake."""
    page.goto(f"{address}/sample/ismene")
    page.get_by_role("button", name="Knit it as it is").click()
    page.wait_for_url("**/pair/*")
    knitting = Knitting(page, page.url.removeprefix(f"{address}/pair/").partition("?")[0])
    page.get_by_role("link", name="Knit", exact=True).tap()
    knitting.is_ready()
    knitting.count(2)
    knitting.works_without_network()
    devtools = page.context.new_cdp_session(page)
    assert devtools.send("Page.getInstallabilityErrors")["installabilityErrors"] == []
    manifest = devtools.send("Page.getAppManifest")
    assert (manifest["errors"], manifest["url"]) == ([], f"{address}/manifest.webmanifest")
    assert page.evaluate("navigator.wakeLock.request('screen').then((lock) => lock.type)") == "screen"
    page.context.set_offline(True)
    page.reload()
    knitting.is_at(2)
    knitting.count()
    page.context.set_offline(False)
