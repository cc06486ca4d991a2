"""`companion serve`: it starts, says where it is, stops cleanly, and says clearly when it cannot."""

from __future__ import annotations

import logging
import os
import re
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, suppress
from pathlib import Path

import pytest
import zxingcpp

from companion.cli import main
from companion.serving import (
    THREADS,
    CannotServeError,
    _WithoutPaths,
    address_in_network,
    data_folder,
    public_url,
)

from .test_cli import COMPANION
from .web.test_qr import printed

HOME = Path("/home/ada") if sys.platform != "win32" else Path("C:/Users/ada")


@contextmanager
def serving(folder: Path, *options: str) -> Iterator[tuple[subprocess.Popen[str], list[str]]]:
    """The command running, and the lines it has printed by the time it serves."""
    command = [*COMPANION, "serve", "--data", str(folder), "--port", "0", *options]
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
    with serving(tmp_path / "new" / "folder", "--local") as (server, lines):
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
    with serving(tmp_path, "--local") as (server, lines):
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
    with serving(tmp_path, "--public-url", "https://socks.example/") as (_, lines):
        assert lines[0] == "Tapeline is at https://socks.example\n"
        assert "On this computer also at http://127.0.0.1:" in lines[1]
        assert str(tmp_path) in lines[2]


def test_a_taken_port_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        assert main(["serve", "--local", "--port", str(port), "--data", str(tmp_path)]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert err == (
        f"companion serve: port {port} is taken by another program; stop that one or choose another with --port\n"
    )


def test_many_phones_at_once_are_served_without_a_word(tmp_path: Path) -> None:
    """waitress warns of each request that waits for a thread (waitress/task.py), which is no fault of anybody's."""
    with serving(tmp_path, "--local") as (server, lines):
        address = re.search(r"http://127\.0\.0\.1:\d+", lines[0])
        assert address
        with ThreadPoolExecutor(8 * THREADS) as phones:
            answers = phones.map(lambda _: urllib.request.urlopen(f"{address[0]}/plan", timeout=60).status, range(64))
            assert set(answers) == {200}
        server.send_signal(signal.SIGTERM)
        _, err = server.communicate(timeout=20)
    assert err == ""


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--port", "99999"], "--port: 99999 given; allowed: 1 to 65535"),
        (["--port", "-1"], "--port: -1 given"),
        (["--host", "192.0.2.1"], "--host"),
        (["--host", "no such host"], "--host"),
        (["--public-url", "socks.example"], "--public-url: 'socks.example' given"),
        (["--data", "FILE/under"], "cannot be made"),
        (["--data", "FOREIGN"], "is not a database"),
    ],
)
def test_what_keeps_it_from_serving_is_told_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], options: list[str], says: str
) -> None:
    (tmp_path / "file").write_text("a file")
    foreign = tmp_path / "foreign"
    foreign.mkdir()
    (foreign / "tapeline.sqlite3").write_text("something else " * 100)
    given = [option.replace("FILE", str(tmp_path / "file")).replace("FOREIGN", str(foreign)) for option in options]
    assert main(["serve", "--port", "0", "--data", str(tmp_path), *given]) == 1
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
