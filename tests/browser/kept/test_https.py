"""A phone that trusts the computer of the house, or caddy before it, keeps the pages, can install them, and keeps its
screen on. Caddy has the file that `companion deploy` prints."""

from __future__ import annotations

import io
import re
import shutil
import socket
import subprocess
from collections.abc import Iterator
from contextlib import redirect_stdout
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Playwright

from companion.cli import main
from companion.home_https.authority import AUTHORITY_FILE

from ...cli.serving import serving
from ..pages.test_every_page import found_by_axe
from ..trusting import has_all_that_https_gives, needs_certutil, trusting_phone

pytestmark = needs_certutil

NAME = "tapeline.localhost"
"""Caddy vouches by an authority of its own for names that end so (RFC 6761); browsers look for them here."""

OWN_AUTHORITY = "{{\n  admin off\n  auto_https disable_redirects\n  https_port {port}\n  skip_install_trust\n}}\n"


@pytest.fixture(scope="module")
def house(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    """The https address of a server whose name leads to this computer, and its authority."""
    folder = tmp_path_factory.mktemp("house")
    with serving(folder, "--https", "--https-port", "0", "--host", "127.0.0.1") as server:
        line = next(line for line in server.said if line.startswith("Tapeline is at "))
        found = re.search(r"https://\S+", line)
        assert found
        yield found[0], folder / AUTHORITY_FILE


def free_port() -> int:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        return int(other.getsockname()[1])


@pytest.fixture(scope="module")
def proxied(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path] | None]:
    """The address of a server behind caddy, and caddy's authority."""
    if not shutil.which("caddy"):
        yield None
        return
    folder, secure, printed = tmp_path_factory.mktemp("proxied"), free_port(), io.StringIO()
    address = f"https://{NAME}:{secure}"
    with serving(folder, "--local", "--public-url", address) as server:
        behind = next(line for line in server.lines if line.startswith("On this computer")).rpartition(":")[2].strip()
        with redirect_stdout(printed):
            assert main(["deploy", "caddy", NAME, "--port", behind]) == 0
        file = folder / "Caddyfile"
        file.write_text(OWN_AUTHORITY.format(port=secure) + printed.getvalue())
        with subprocess.Popen(
            ["caddy", "run", "--config", str(file), "--adapter", "caddyfile"],
            stderr=subprocess.PIPE,
            text=True,
            env={"HOME": str(folder), "XDG_DATA_HOME": str(folder)},
        ) as caddy:
            assert caddy.stderr
            # Certificates are got in the background, and said to be there.
            assert any("certificate obtained successfully" in line for line in caddy.stderr)
            yield address, folder / "caddy" / "pki" / "authorities" / "local" / "root.crt"
            caddy.kill()


@pytest.fixture(scope="module")
def phone(
    playwright: Playwright,
    house: tuple[str, Path],
    proxied: tuple[str, Path] | None,
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[BrowserContext]:
    trusted = [authority for _, authority in (house, *([proxied] if proxied else []))]
    with trusting_phone(playwright, tmp_path_factory.mktemp("phone"), trusted) as context:
        yield context


def test_the_guide_has_no_findings_of_axe(phone: BrowserContext, house: tuple[str, Path]) -> None:
    page = phone.new_page()
    page.goto(f"{house[0]}/https")
    for fold in page.locator("summary").all():
        fold.tap()
    assert found_by_axe(page) == []


def test_a_phone_that_trusts_the_house_counts_without_network(phone: BrowserContext, house: tuple[str, Path]) -> None:
    has_all_that_https_gives(phone.new_page(), house[0])


def test_a_phone_has_all_of_https_behind_caddy(phone: BrowserContext, proxied: tuple[str, Path] | None) -> None:
    """Links, cookies and times without network are those of https."""
    if not proxied:
        pytest.skip("caddy is not here: installing it would start it")
    has_all_that_https_gives(phone.new_page(), proxied[0])
    [cookie] = phone.cookies(proxied[0])
    assert (cookie["name"], cookie["secure"]) == ("__Host-tapeline", True)
