"""`companion serve --https`: the pages over https, and what a phone is asked to trust, from a process of its own."""

from __future__ import annotations

import itertools
import re
import socket
import ssl
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from http.client import HTTPResponse, HTTPSConnection
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes

from companion.cli import main
from companion.cli.serve_https import house_name
from companion.home_https.authority import AUTHORITY_FILE

from .serving import Serving, serving


@dataclass(frozen=True)
class AtHome:
    """A server of a house. It listens on this computer alone; the name leads there."""

    plain: str
    name: str
    port: int
    lines: str
    server: Serving

    def authority(self) -> bytes:
        with urllib.request.urlopen(f"{self.plain}/https/tapeline.crt", timeout=20) as answer:
            assert answer.headers["Content-Type"] == "application/x-x509-ca-cert"
            return bytes(answer.read())

    def ask(self, path: str) -> HTTPResponse:
        """Ask over https as a phone does that trusts the authority, and no other."""
        trusting = ssl.create_default_context(cadata=self.authority())
        raw = socket.create_connection(("127.0.0.1", self.port), 20)
        with closing(HTTPSConnection(self.name, self.port)) as asking:
            asking.sock = trusting.wrap_socket(raw, server_hostname=self.name)
            asking.request("GET", path)
            answer = asking.getresponse()
            answer.read()
        return answer


@contextmanager
def serving_at_home(folder: Path) -> Iterator[AtHome]:
    with serving(folder, "--https", "--https-port", "0", "--host", "127.0.0.1") as server:
        more = itertools.takewhile(lambda line: not line.startswith("What a phone keeps"), server.said)
        said = "".join([*server.lines, *more])
        found = re.search(r"Tapeline is at https://(\S+):(\d+)", said)
        plain = re.search(r"(http://127\.0\.0\.1:\d+)/https", said)
        assert found, said
        assert plain, said
        yield AtHome(plain[1], found[1], int(found[2]), said, server)


@pytest.fixture(scope="module")
def at_home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[AtHome]:
    """One for all tests that leave it as it is."""
    with serving_at_home(tmp_path_factory.mktemp("home")) as home:
        yield home


def test_a_phone_that_trusts_it_has_the_pages_over_https(at_home: AtHome) -> None:
    answer = at_home.ask("/plan")
    assert answer.status == 200
    cookie = answer.headers["Set-Cookie"]
    assert cookie.startswith("__Host-")
    assert "Secure" in cookie
    assert at_home.ask("/https").status == 200


def test_the_computer_prints_the_fingerprint_that_the_phone_will_show(at_home: AtHome) -> None:
    handed_out = x509.load_der_x509_certificate(at_home.authority()).fingerprint(hashes.SHA256())
    assert f"Its fingerprint is {handed_out.hex(' ').upper()}\n" in at_home.lines
    with urllib.request.urlopen(f"{at_home.plain}/https", timeout=20) as answer:
        assert handed_out.hex(" ").upper() in answer.read().decode()


@pytest.mark.parametrize(
    ("then", "leads_to"),
    [
        ("/pair/x/knit", "/pair/x/knit"),
        ("//bank.example", "/"),
        ("https://bank.example", "/"),
        ("/\\bank.example", "/"),
    ],
)
def test_the_guide_leads_on_to_the_page_that_was_wanted_and_to_no_other_computer(
    at_home: AtHome, then: str, leads_to: str
) -> None:
    with urllib.request.urlopen(f"{at_home.plain}/https?then={then}", timeout=20) as answer:
        page = answer.read().decode()
    assert f'href="https://{at_home.name}:{at_home.port}{leads_to}"' in page


def test_over_plain_http_the_same_pairs_are_there(at_home: AtHome) -> None:
    """A phone that has counted there sends what it has, and goes on."""
    with urllib.request.urlopen(f"{at_home.plain}/plan", timeout=20) as answer:
        assert answer.status == 200
        assert f'content="https://{at_home.name}:{at_home.port}" data-guide' in answer.read().decode()


def test_clients_that_never_finish_their_handshake_hold_up_nobody(at_home: AtHome) -> None:
    with ExitStack() as silent:
        for _ in range(4):
            silent.enter_context(socket.create_connection(("127.0.0.1", at_home.port)))
        assert at_home.ask("/").status == 200


def test_one_that_does_not_trust_it_or_speaks_plain_http_is_no_fault_of_the_server(tmp_path: Path) -> None:
    with serving_at_home(tmp_path) as at_home:
        with socket.create_connection(("127.0.0.1", at_home.port), 20) as plain:
            plain.sendall(b"GET / HTTP/1.1\r\nHost: ada\r\n\r\n")
            plain.recv(1000)
        with (
            socket.create_connection(("127.0.0.1", at_home.port), 20) as raw,
            pytest.raises(ssl.SSLCertVerificationError),
        ):
            ssl.create_default_context().wrap_socket(raw, server_hostname=at_home.name)
        assert at_home.ask("/").status == 200
        code, said, complained = at_home.server.stop()
    assert (code, said.strip().endswith("Stopped.")) == (0, True)
    assert "Traceback" not in complained


def test_it_is_trusted_after_a_new_start_too(tmp_path: Path) -> None:
    options = ("--https", "--https-port", "0", "--host", "127.0.0.1")
    kept = []
    for _ in range(2):
        with serving(tmp_path, *options):
            kept.append((tmp_path / AUTHORITY_FILE).read_bytes())
    assert kept[0] == kept[1]


def test_a_damaged_authority_is_told_in_a_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / AUTHORITY_FILE).write_text("nothing")
    assert main(["serve", "--data", str(tmp_path), "--port", "0", "--https", "--https-port", "0"]) == 2
    [line] = capsys.readouterr().err.splitlines()
    assert line.startswith("companion serve: --https: ")
    assert "move the files https-*" in line


def test_https_for_this_computer_alone_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["serve", "--https", "--local"]) == 2
    assert "give one" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("computer", "name"),
    [("Ada", "ada.local"), ("ada.home.example", "ada.local"), ("localhost", None), ("ada_s pc", None), ("-a", None)],
)
def test_the_name_of_the_computer_in_its_network(computer: str, name: str | None) -> None:
    """RFC 6762 for the ending, RFC 1123, section 2.1, for what a name may have."""
    assert house_name(computer) == name
