"""Behind caddy, with the file that `companion deploy` prints: links, cookies and times without network are those of
https."""

from __future__ import annotations

import shutil
import socket
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright

from companion.cli import main

from ...cli.serving import serving
from ..trusting import has_all_that_https_gives, needs_certutil, trusting_phone

pytestmark = [
    needs_certutil,
    pytest.mark.skipif(not shutil.which("caddy"), reason="caddy is not here: installing it would start it"),
]

NAME = "tapeline.localhost"
"""Caddy vouches by an authority of its own for names that end so (RFC 6761); browsers look for them here."""

OWN_AUTHORITY = "{{\n  admin off\n  auto_https disable_redirects\n  https_port {port}\n  skip_install_trust\n}}\n"


def free_port() -> int:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        return int(other.getsockname()[1])


@pytest.fixture
def proxied(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Iterator[str]:
    """The address of a server behind caddy."""
    secure = free_port()
    address = f"https://{NAME}:{secure}"
    with serving(tmp_path, "--local", "--public-url", address) as server:
        behind = server.lines[1].rpartition(":")[2].strip()
        assert main(["deploy", "caddy", NAME, "--port", behind]) == 0
        file = tmp_path / "Caddyfile"
        file.write_text(OWN_AUTHORITY.format(port=secure) + capsys.readouterr().out)
        with subprocess.Popen(
            ["caddy", "run", "--config", str(file), "--adapter", "caddyfile"],
            stderr=subprocess.PIPE,
            text=True,
            env={"HOME": str(tmp_path), "XDG_DATA_HOME": str(tmp_path)},
        ) as caddy:
            assert caddy.stderr
            # Certificates are got in the background, and said to be there.
            assert any("certificate obtained successfully" in line for line in caddy.stderr)
            yield address
            caddy.kill()


def test_a_phone_has_all_of_https_behind_caddy(proxied: str, playwright: Playwright, tmp_path: Path) -> None:
    authority = tmp_path / "caddy" / "pki" / "authorities" / "local" / "root.crt"
    with trusting_phone(playwright, tmp_path, authority, proxied) as context:
        page = context.new_page()
        has_all_that_https_gives(page, proxied)
        [cookie] = context.cookies()
        assert (cookie["name"], cookie["secure"]) == ("__Host-tapeline", True)
