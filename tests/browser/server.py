"""The pages, served by a process of their own that can be killed and started again on the same data."""

from __future__ import annotations

import os
import re
import signal
from collections.abc import Iterator
from contextlib import closing, contextmanager
from functools import cache
from multiprocessing.context import ForkServerProcess
from pathlib import Path
from typing import TextIO

from companion.cli.data_folder import FILE_NAME
from companion.pair.logbook import SOCKS, Entry
from companion.planning import Plan, make_plan
from companion.planning.units import Unit
from companion.resources import SAMPLE_PROJECTS
from companion.store import Store
from companion.web.links import new_link
from companion.web.samples import read_samples

from ..conftest import made
from .program import started


@cache
def _planned(sample: str) -> Plan:
    return make_plan(read_samples(SAMPLE_PROJECTS)[sample].request)


@cache
def _plan(sample: str) -> tuple[str, str]:
    """A sample's title and its plan document."""
    plan = _planned(sample)
    return plan.title, plan.model_dump_json()


class Server:
    """`companion serve` on a folder of its own, or on a database. Started again, it is at the same address."""

    _process: ForkServerProcess
    _said: TextIO

    def __init__(self, folder: Path, database: str | None = None) -> None:
        """`static` may be set to other files than the project's, as a newer version would have them."""
        self.folder = folder
        self.place = database or folder / FILE_NAME
        self.address = ""
        self._port = "0"
        self.static: Path | None = None

    def start(self) -> None:
        """Start, and wait for the line that says where."""
        kept = ["--data", str(self.folder)] if isinstance(self.place, Path) else ["--database", self.place]
        arguments = ["serve", "--local", "--port", self._port, *kept]
        self._process, self._said = started(arguments, self._errors, self.static)
        line = self._said.readline()
        found = re.search(r"http://127\.0\.0\.1:(\d+)", line)
        assert found, f"the server said {line!r} and {self.errors()!r}"
        self.address, self._port = found[0], found[1]

    def is_running(self) -> bool:
        """Whether it was started and has not ended since."""
        return self._process.is_alive()

    def freeze(self) -> None:
        """From now on requests arrive and are not answered."""
        assert self._process.pid
        os.kill(self._process.pid, signal.SIGSTOP)

    def kill(self) -> None:
        """End at once, in the middle of whatever it does, if it has not ended yet."""
        self._process.kill()
        self._process.join()
        self._said.close()

    def processor_seconds(self) -> float:
        """Processor time that the server has taken so far (proc(5), fields utime and stime)."""
        fields = Path(f"/proc/{self._process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    @property
    def _errors(self) -> Path:
        return self.folder / "errors.txt"

    def errors(self) -> str:
        """What the server has complained about."""
        return self._errors.read_text()

    def add_pair(self, sample: str = "ismene", unit: Unit = "cm") -> str:
        """A new pair by one of the sample projects; returns its link."""
        return self._add(*_plan(sample), unit)

    def add_plan(self, plan: Plan) -> str:
        """A new pair by this plan; returns its link."""
        return self._add(plan.title, plan.model_dump_json(), "cm")

    def _add(self, title: str, plan: str, unit: Unit) -> str:
        link = new_link()
        with self.store() as store:
            store.add_pair(link, title, unit, plan)
        return link

    def add_finished_pair(self, sample: str = "ismene") -> str:
        """A new pair by one of the sample projects, both socks of which another phone has counted to their ends."""
        link = self.add_pair(sample)
        total = len(_planned(sample).rounds())
        self.write(link, *(made(sock, sock=sock, kind="go", round=total) for sock in SOCKS))
        return link

    def write(self, link: str, *entries: Entry) -> None:
        """Put entries into the logbook of a pair, as another phone would."""
        with self.store() as store:
            pair = store.find_pair(link)
            assert pair
            store.add_entries(pair, entries)

    def entries(self, link: str) -> list[Entry]:
        """The logbook of a pair as it lies on the server's disk, in the order it arrived."""
        with self.store() as store:
            pair = store.find_pair(link)
            assert pair
            return list(store.entries(pair).values())

    def counted(self, link: str) -> list[int]:
        """The places of a pair's entries on the server's disk, in the order of their clocks."""
        return [entry.round for entry in sorted(self.entries(link), key=lambda entry: entry.clock)]

    @contextmanager
    def store(self) -> Iterator[Store]:
        """What lies on the server's disk, for as long as the block runs."""
        with closing(Store(self.place)) as store:
            yield store


@contextmanager
def serving(folder: Path, database: str | None = None) -> Iterator[Server]:
    """A server that ends with the block, however it was treated. It has had nothing to complain about by then."""
    server = Server(folder, database)
    server.start()
    try:
        yield server
    finally:
        server.kill()
    errors = server.errors()
    assert "Traceback" not in errors, errors
    assert not re.search(r"/pair/[\w-]{22}", errors), "the server's log gives a link away"
