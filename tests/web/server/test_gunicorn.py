"""`companion/wsgi.py` behind another server, two processes of it, which is upgraded while a phone goes on sending."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing, suppress
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from companion.cli.data_folder import FILE_NAME
from companion.store import Store

from ...conftest import fully
from ...storing import LINK, add_pair
from .phone import Phone

WHAT = "companion.wsgi:app()"
COMMAND = Path(sys.executable).with_name("gunicorn")
if not COMMAND.exists():
    pytest.skip("gunicorn is not here", allow_module_level=True)
if not Path("/proc/self/task").exists():
    pytest.skip("which processes belong to a server is read from Linux's /proc", allow_module_level=True)

# Processes come and go in the same way over either. What each does for several at once, tests/store shows.
OVER_BOTH_DATABASES = fully()


class Gunicorn:
    """It, on a port of this computer."""

    def __init__(self, folder: Path, database: Path | str) -> None:
        self.folder = folder
        place = {"TAPELINE_DATABASE": database} if isinstance(database, str) else {}
        with socket.create_server(("127.0.0.1", 0)) as found:
            here = f"127.0.0.1:{found.getsockname()[1]}"
        self.address = f"http://{here}"
        # Six workers are started in all: the modules are loaded before they are forked, and each makes its own app.
        settings = folder / "gunicorn.conf.py"
        settings.write_text("import companion.wsgi")
        options = ["--workers", "2", "--threads", "4", "--bind", here, "--pid", str(self._pid), "-c", str(settings)]
        command = [str(COMMAND), *options, WHAT]
        own = {"HOME": str(folder), "TAPELINE_DATA": str(folder)}
        with (folder / "said").open("ab") as said:
            self._process = subprocess.Popen(command, env={**os.environ, **own, **place}, stderr=said)
        self.master = self._process.pid

    @property
    def _pid(self) -> Path:
        return self.folder / "pid"

    def workers(self) -> set[int]:
        """The processes that the present master has started."""
        return set(map(int, Path(f"/proc/{self.master}/task/{self.master}/children").read_text().split()))

    def well(self) -> bool:
        """Whether it answers, once it has started."""
        while "Listening at" not in self.said():
            assert self._process.poll() is None, self.said()
            time.sleep(0.02)
        with closing(HTTPConnection(urlsplit(self.address).netloc, timeout=120)) as connection:
            connection.request("GET", "/health?deep")
            return connection.getresponse().status == 200

    def start_beside(self) -> None:
        """Have it start again, from what is installed by now, beside the workers that answer so far."""
        os.kill(self.master, signal.SIGUSR2)
        beside = self._pid.with_name("pid.2")
        while not (beside.exists() and beside.read_text().strip()):
            assert self._process.poll() is None, self.said()
            time.sleep(0.02)
        self.master = int(beside.read_text())

    def end_the_old(self) -> None:
        """Have the master that was started first end with its workers, once what they do is done."""
        self._process.terminate()
        self._process.wait()

    def said(self) -> str:
        """What it has written on its standard error."""
        return (self.folder / "said").read_text()

    def end(self) -> None:
        """End it, whichever process it is by now."""
        self._process.terminate()
        self._process.wait()
        with suppress(ProcessLookupError):
            while self.master != self._process.pid:  # none of our children, so that it cannot be waited for
                os.kill(self.master, signal.SIGTERM)
                time.sleep(0.05)


@pytest.fixture
def store_path(tmp_path: Path) -> Path:
    """Where the program looks for it in a folder."""
    return tmp_path / FILE_NAME


@pytest.fixture
def server(tmp_path: Path, store: Store, database: Path | str) -> Iterator[Gunicorn]:
    add_pair(store)
    started = Gunicorn(tmp_path, database)
    try:
        assert started.well(), started.said()
        yield started
    finally:
        started.end()


def test_an_upgrade_leaves_no_request_without_its_answer(server: Gunicorn, store: Store) -> None:
    """By HUP, which starts the workers again, and by USR2, which starts the whole again beside."""
    with Phone([server.address], f"/pair/{LINK}/log") as phone:
        phone.wait_for_more()
        old = server.workers()
        assert len(old) == 2
        os.kill(server.master, signal.SIGHUP)
        while old & server.workers():
            phone.wait_for_more()
        phone.wait_for_more()
        server.start_beside()
        phone.wait_for_more()
        server.end_the_old()
        phone.wait_for_more()
    assert (phone.unanswered, phone.refusals) == (0, [])
    pair = store.find_pair(LINK)
    assert pair
    assert phone.kept([one.round for one in store.entries(pair).values()])
    assert "Traceback" not in server.said()
    assert LINK not in server.said()
