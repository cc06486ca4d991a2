"""`companion serve`: it starts, says where it is, stops cleanly, and says clearly when it cannot."""

from __future__ import annotations

import json
import logging
import os
import re
import signal
import socket
import stat
import subprocess
import sys
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from http.cookiejar import CookieJar
from pathlib import Path

import pytest
import zxingcpp

from companion.cli import main
from companion.cli.data_folder import data_folder
from companion.cli.output import CannotServeError
from companion.cli.serve import THREADS, _WithoutPaths, address_in_network, hosts_of, public_url
from companion.web.server.quotas import IMPORTS

from ..drawings.test_qr import printed
from .serving import serving
from .test_plans import COMPANION

HOME = Path("/home/ada") if sys.platform != "win32" else Path("C:/Users/ada")


@contextmanager
def interpreted(
    folder: Path, *options: str, before: Sequence[str] = ()
) -> Iterator[tuple[subprocess.Popen[str], list[str]]]:
    """The command in an interpreter of its own, for what depends on how a program is started and how it ends.

    `before` is a command that starts it. The lines are those printed by the time it serves.
    """
    command = [*before, *COMPANION, "serve", "--data", str(folder), "--port", "0", *options]
    environment = {**os.environ, "PYTHONIOENCODING": "utf-8"}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8", env=environment
    ) as server:
        assert server.stdout
        try:
            yield server, list(iter(server.stdout.readline, "\n"))
        finally:
            server.kill()


@pytest.mark.usefixtures("interrupts")
@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT])
def test_it_serves_until_it_is_told_to_stop(tmp_path: Path, number: signal.Signals) -> None:
    with interpreted(tmp_path / "new" / "folder", "--local") as (server, lines):
        address = re.search(r"http://127\.0\.0\.1:\d+", lines[0])
        assert address
        with urllib.request.urlopen(address[0], timeout=20) as answer:
            assert answer.status == 200
        [code] = zxingcpp.read_barcodes(printed("".join(line for line in lines if "█" in line)))
        assert code.text == f"{address[0]}/"
        server.send_signal(number)
        out, err = server.communicate(timeout=20)
    assert (server.returncode, out.strip(), err) == (0, "Stopped.", "")


def test_it_goes_on_serving_when_nobody_reads_what_it_says(tmp_path: Path) -> None:
    """As in `companion serve | head -1`."""
    with interpreted(tmp_path, "--local") as (server, lines):
        address = re.search(r"http://127\.0\.0\.1:\d+", lines[0])
        assert address
        assert server.stdout
        server.stdout.close()
        with urllib.request.urlopen(address[0], timeout=20) as answer:
            assert answer.status == 200
        server.send_signal(signal.SIGTERM)
        assert server.wait(timeout=20) == 0
        assert server.stderr
        assert server.stderr.read() == ""


def serves(server: subprocess.Popen[bytes], port: int) -> None:
    """Wait until it answers: it cannot say so, for nobody hears it."""
    while True:
        with suppress(urllib.error.URLError), urllib.request.urlopen(f"http://127.0.0.1:{port}", timeout=20):
            return
        with suppress(subprocess.TimeoutExpired):
            pytest.fail(f"it ended with {server.wait(timeout=0.05)}")


def test_nobody_reading_from_the_start_is_no_fault(tmp_path: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        port = other.getsockname()[1]
    with os.fdopen(writing, "wb") as closed, (tmp_path / "errors").open("wb") as errors:
        command = [*COMPANION, "serve", "--data", str(tmp_path), "--port", str(port), "--local"]
        with subprocess.Popen(command, stdout=closed, stderr=errors) as server:
            serves(server, port)
            server.send_signal(signal.SIGTERM)
            assert server.wait(timeout=20) == 0
    assert (tmp_path / "errors").read_bytes() == b""


def test_it_says_how_other_devices_reach_it(tmp_path: Path) -> None:
    with serving(tmp_path, "--public-url", "https://socks.example/") as server:
        first, second, third, *_ = server.lines
    assert first == "Tapeline is at https://socks.example\n"
    assert "On this computer also at http://127.0.0.1:" in second
    assert str(tmp_path) in third


def sent(address: str, cookies: CookieJar, path: str = "/plan/choices", **headers: str) -> int:
    """The status of a form that a phone sends with its token; the jar keeps to what RFC 6265 says of Secure."""
    phone = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(cookies))
    phone.addheaders = list(headers.items())
    with phone.open(f"{address}/csrf", timeout=20) as answer:
        token = json.load(answer)["token"]
    form = urllib.parse.urlencode({"csrf_token": token}).encode()
    try:
        with phone.open(f"{address}{path}", form, timeout=20) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as error:
        return error.code


def test_a_phone_in_the_house_is_served_beside_the_public_address(tmp_path: Path) -> None:
    with serving(tmp_path, "--local", "--public-url", "https://socks.example") as server:
        address = re.search(r"http://127\.0\.0\.1:\d+", server.lines[1])
        assert address
        cookies = CookieJar()
        assert sent(address[0], cookies) == 200
        assert sent(address[0].replace("127.0.0.1", "localhost"), CookieJar()) == 200
        assert sent(address[0], cookies, **{"X-Forwarded-Proto": "https"}) == 400, "a secure cookie goes by https alone"
        assert {cookie.name: cookie.secure for cookie in cookies} == {"tapeline": False, "__Host-tapeline": True}
        assert sent(address[0], cookies) == 200, "and is not in the way of the other"
        refused = urllib.request.Request(address[0], headers={"Host": "evil.example"})
        with pytest.raises(urllib.error.HTTPError, match="400"):
            urllib.request.urlopen(refused, timeout=20)
        for path in ("//plan", "/plan//choices"):
            with pytest.raises(urllib.error.HTTPError, match="404"):
                urllib.request.urlopen(address[0] + path, timeout=20)


@pytest.mark.parametrize("proxied", [True, False])
def test_a_proxy_on_this_computer_alone_says_where_a_request_comes_from(tmp_path: Path, proxied: bool) -> None:
    if not proxied and address_in_network() == "127.0.0.1":
        pytest.skip("this computer has no address but its own")
    with serving(tmp_path) as server:
        port = re.search(r":(\d+)", server.lines[0])
        assert port
        address = f"http://{'127.0.0.1' if proxied else address_in_network()}:{port[1]}"
        cookies = CookieJar()

        def imported(home: str) -> int:
            return sent(address, cookies, f"/pair/{'A' * 22}/put-back", **{"X-Forwarded-For": home})

        assert {imported("192.0.2.7") for _ in range(IMPORTS.most)} == {422}
        assert imported("192.0.2.7") == 429
        assert imported("192.0.2.8") == (422 if proxied else 429)


@pytest.mark.parametrize(
    ("address", "host", "known"),
    [
        ("https://Socks.example", "0.0.0.0", {"socks.example", "localhost", "127.0.0.1", "::1"}),
        ("http://[2001:db8::1]:80", "Yarn", {"2001:db8::1", "yarn"}),
        ("https://socks.example", "::1", {"socks.example", "::1"}),
    ],
)
def test_a_server_is_known_by_its_public_name_and_by_those_of_its_computer(
    address: str, host: str, known: set[str]
) -> None:
    hosts = hosts_of(address, host)
    assert known | {address_in_network()} <= hosts
    assert not hosts & {"", "0.0.0.0", "::"}


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such modes")
def test_a_folder_that_was_there_before_is_closed_to_others(tmp_path: Path) -> None:
    tmp_path.chmod(0o755)
    with serving(tmp_path, "--local"):
        assert stat.S_IMODE(tmp_path.stat().st_mode) == 0o700


def test_a_taken_port_is_reported(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        assert main(["serve", "--local", "--port", str(port), "--data", str(tmp_path)]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err == (
        f"companion serve: port {port} is taken by another program; stop that one or choose another with --port\n"
    )


def test_many_phones_at_once_are_served_without_a_word(tmp_path: Path) -> None:
    """waitress warns of each request that waits for a thread (waitress/task.py), which is no fault of anybody's."""
    with serving(tmp_path, "--local") as server:
        address = re.search(r"http://127\.0\.0\.1:\d+", server.lines[0])
        assert address
        with ThreadPoolExecutor(8 * THREADS) as phones:
            answers = phones.map(
                lambda _: urllib.request.urlopen(f"{address[0]}/plan", timeout=60).status, range(8 * THREADS)
            )
            assert set(answers) == {200}
        _, _, complained = server.stop()
    assert complained == ""


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--port", "99999"], "--port: 99999 given; allowed: 1 to 65535"),
        (["--port", "-1"], "--port: -1 given"),
        (["--host", "192.0.2.1"], "--host"),
        (["--host", "no such host"], "--host"),
        (["--public-url", "socks.example"], "--public-url: 'socks.example' given"),
        (["--data", "FILE/under"], "cannot be made"),
        (["--data", "FOREIGN"], "is not an SQLite file"),
    ],
)
def test_what_keeps_it_from_serving_is_reported_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], options: list[str], says: str
) -> None:
    (tmp_path / "file").write_text("a file")
    foreign = tmp_path / "foreign"
    foreign.mkdir()
    (foreign / "tapeline.sqlite3").write_text("something else " * 100)
    given = [option.replace("FILE", str(tmp_path / "file")).replace("FOREIGN", str(foreign)) for option in options]
    assert main(["serve", "--port", "0", "--data", str(tmp_path), *given]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert says in err


@pytest.mark.parametrize(
    "given", ["https://socks.example", "http://192.168.1.5:8712", "https://socks.example/", "http://[2001:db8::1]:80"]
)
def test_a_public_address_is_taken(given: str) -> None:
    assert public_url(given) == given.rstrip("/")


@pytest.mark.parametrize(
    "given",
    [
        "",
        "socks.example",
        "ftp://socks.example",
        "https://",
        "https://socks.example/path",
        "https://socks.example?x",
        "https://socks.example#x",
        "https://ada@socks.example",
        "https://socks.example:port",
        "https://socks.example:99999",
        "https://[socks.example",
        "https://socks example",
        "https://socks.example\n",
        "javascript:alert(1)",
    ],
)
def test_what_is_no_public_address_is_refused(given: str) -> None:
    with pytest.raises(CannotServeError, match="--public-url"):
        public_url(given)


@pytest.mark.parametrize(
    ("system", "environment", "folder"),
    [
        ("linux", {}, ".local/share/tapeline"),
        ("linux", {"XDG_DATA_HOME": ""}, ".local/share/tapeline"),
        # XDG Base Directory Specification 0.8: a relative path is invalid and to be ignored.
        ("linux", {"XDG_DATA_HOME": "here"}, ".local/share/tapeline"),
        ("linux", {"XDG_DATA_HOME": str(HOME / "data")}, "data/tapeline"),
        ("darwin", {}, "Library/Application Support/Tapeline"),
        ("win32", {}, "AppData/Local/Tapeline"),
        ("win32", {"LOCALAPPDATA": str(HOME / "Data")}, "Data/Tapeline"),
    ],
)
def test_pairs_are_kept_where_the_system_has_it(system: str, environment: dict[str, str], folder: str) -> None:
    assert data_folder(system, environment, HOME) == HOME / folder


def test_the_address_in_the_network_is_one(monkeypatch: pytest.MonkeyPatch) -> None:
    assert re.fullmatch(r"\d+\.\d+\.\d+\.\d+", address_in_network())

    def fails(*_: object) -> str:
        raise OSError("no network")

    monkeypatch.setattr("socket.socket.connect", fails)
    monkeypatch.setattr("socket.gethostbyname", fails)
    assert address_in_network() == "127.0.0.1"


@pytest.mark.parametrize("words", ["Client disconnected while serving %s", "Exception while serving %s"])
def test_what_the_server_logs_has_no_path(words: str) -> None:
    """waitress 3 names the path in these two messages (waitress/channel.py)."""
    record = logging.LogRecord("waitress", logging.ERROR, "", 1, words % "/pair/SECRET/knit", None, None)
    assert _WithoutPaths().filter(record)
    assert "SECRET" not in record.getMessage()
    assert "while serving" in record.getMessage()
