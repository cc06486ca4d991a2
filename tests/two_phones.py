"""Phones that count apart, as small models: what each holds, where it stands, and by which moves it got there.

The model keeps for each move the whole line of moves that led to it, as a set of bits. That is far more than the
logbook keeps, and is what its ends are checked against.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import islice
from random import Random

from companion.pair.logbook import Entry, Sock, ends

SOCK: Sock = 1
HIGHEST = 60
"""Rounds of the sock; small, so that two phones often meet at the same round by chance."""


@dataclass
class Ledger:
    """All moves ever made, by anybody, with the line that led to each: the judge, which no phone can ask."""

    lines: dict[str, int] = field(default_factory=dict)
    moves: list[Entry] = field(default_factory=list)

    def note(self, entry: Entry, line: int) -> None:
        self.lines[entry.id] = line | 1 << len(self.moves)
        self.moves.append(entry)

    def ends_among(self, entries: Iterable[Entry]) -> set[str]:
        """The moves that lie in the line of no other."""
        there = {entry.id for entry in entries}
        found = set()
        covered = 0
        for number in range(len(self.moves) - 1, -1, -1):
            entry = self.moves[number]
            if entry.id in there:
                if not covered >> number & 1:
                    found.add(entry.id)
                covered |= self.lines[entry.id] & ~(1 << number)
        return found


@dataclass
class Phone:
    """A phone with its part of the logbook.

    `unsent` are the entries that it does not know the server to have got from it, and `heard` is how many of the
    server's it has taken in.
    """

    name: str
    ledger: Ledger
    random: Random
    entries: dict[str, Entry] = field(default_factory=dict)
    open_ends: list[Entry] = field(default_factory=list)
    unsent: dict[str, Entry] = field(default_factory=dict)
    heard: int = 0
    place: int = 0
    clock: int = 0
    asked: int = 0

    def move(self) -> None:
        """Count, take back or jump, as a knitter does; most often count."""
        rounds = {entry.round for entry in self.open_ends}
        if len(rounds) > 1 and self.random.random() < 0.5:
            self.asked += 1
            return self._write("go", self.random.choice(sorted(rounds)))
        kind = self.random.choices(["count", "undo", "go"], [20, 3, 1])[0]
        if kind == "go":
            return self._write("go", self.random.randint(0, HIGHEST))
        step = 1 if kind == "count" else -1
        return self._write(kind, min(HIGHEST, max(0, self.place + step)))

    def _write(self, kind: str, target: int) -> None:
        agrees = [end for end in self.open_ends if kind == "go" or end.round == self.place]
        self.clock += 1
        number = len(self.ledger.moves)
        entry = Entry.model_validate(
            {
                "id": f"{self.random.getrandbits(32):08x}-0000-4000-8000-{number:012x}",
                "device": self.name,
                "clock": self.clock,
                "at": "2025-11-03T19:30:00Z",
                "sock": SOCK,
                "kind": kind,
                "round": target,
                "after": [end.id for end in agrees],
            }
        )
        line = 0
        for end in agrees:
            line |= self.ledger.lines[end.id]
        self.ledger.note(entry, line)
        self.entries[entry.id] = self.unsent[entry.id] = entry
        self.open_ends = [end for end in self.open_ends if end not in agrees] + [entry]
        self.place = target

    def meet(self, server: dict[str, Entry]) -> None:
        """An exchange with the server, which a network may cut anywhere or have twice."""
        unsent = [*self.unsent.values()]
        carried = unsent[: self.random.choice([0, 1, len(unsent), len(unsent)])]
        for entry in carried * self.random.choice([1, 2]):
            server.setdefault(entry.id, entry)
        if self.random.random() < 0.7:  # else the answer is lost
            self.take(carried, server)

    def take(self, carried: Iterable[Entry], server: dict[str, Entry]) -> None:
        """Take the answer in."""
        for entry in carried:
            self.unsent.pop(entry.id, None)
        others = [entry for entry in islice(server.values(), self.heard, None) if entry.id not in self.entries]
        self.heard = len(server)
        self.random.shuffle(others)
        self.entries.update((entry.id, entry) for entry in others)
        self.unsent.update((entry.id, entry) for entry in others)
        self.clock = max([self.clock, *(entry.clock for entry in others)])
        if others:
            self.open_ends = ends(self.entries.values())[SOCK]
            if all(end.round != self.place for end in self.open_ends):
                self.place = self.open_ends[-1].round


def knitted_apart(seed: int, steps: int) -> tuple[Ledger, list[Phone], dict[str, Entry]]:
    """Two phones knit and meet the server now and then, in random order, and all they have is sent at the end."""
    random = Random(seed)
    ledger = Ledger()
    phones = [Phone(f"{letter * 8}-0000-4000-8000-000000000001", ledger, random) for letter in "ab"]
    server: dict[str, Entry] = {}
    meetings = random.choice([0.002, 0.05, 0.5])
    for _ in range(steps):
        phone = random.choice(phones)
        if random.random() < meetings:
            phone.meet(server)
        else:
            phone.move()
    for phone in phones * 2:
        server.update((entry.id, entry) for entry in phone.entries.values())
        phone.take(list(phone.entries.values()), server)
    return ledger, phones, server
