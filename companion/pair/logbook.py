"""The logbook: everything that happened while knitting, in order. Pure.

Entries come from several devices that may have been without network for weeks. Each carries a Lamport clock
(L. Lamport, Communications of the ACM 21, 1978, 558): one more than the highest clock its writer had seen.
The order by clock, then device, then id is therefore the same wherever the same entries are, and what was
written in the knowledge of an entry comes after it.

A clock goes up by one with each entry, so none is ever far ahead of all others. One that is, of a faulty phone or of
somebody who was given the link, would take all others along to where no clock can go on; its entry is set aside.

A move also names the moves that it goes on from. Those that no other goes on from are the ends of the log: one
when everybody counted on from the last, and several when devices counted apart, as in a register that keeps every
value written without knowledge of the others (Shapiro et al., INRIA report 7506, 2011, section 3.2.2).
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Annotated, Any, Literal, Protocol, TypeAlias, TypeVar, get_args

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    StringConstraints,
    ValidationError,
    ValidationInfo,
    field_validator,
)

from ..planning import Fault
from ..planning.faults import faults_of
from ..planning.plan.document import MOST_ROUNDS
from .remarks import SHAPES, Remark, checked_remark

Move: TypeAlias = Literal["count", "undo", "go"]
"""The kinds that move a sock's place."""
MOVES = frozenset(get_args(Move))

Sock: TypeAlias = Literal[1, 2]
SOCKS: tuple[Sock, Sock] = (1, 2)

FURTHEST_AHEAD = 1_000_000
"""How far a clock may be ahead of all others (ours): nobody counts so often while others hear nothing of it."""

HIGHEST_CLOCK = 2**48
"""Far above what clocks come to (ours), and exact in a browser (ECMAScript, Number.MAX_SAFE_INTEGER is 2**53 - 1)."""

MOST_ENTRIES = 50_000
"""In the logbook of a pair: a count, a step back and a note for each round of many pairs (ours)."""

MOST_GONE_ON_FROM = 16
"""Moves that one goes on from: as many devices as could count apart, and more than any knitter has (ours)."""

THIS_SERVER = "00000000-0000-0000-0000-000000000000"
"""The device name of entries that the server writes itself: the nil UUID of RFC 9562."""


def _a_moment_in_utc(text: str) -> str:
    try:
        offset = datetime.fromisoformat(text).utcoffset()
    except ValueError:
        offset = None
    if offset is None or offset.total_seconds() != 0:
        raise ValueError("a moment in UTC is needed here, like 2025-11-03T19:30:00Z")
    return text


Moment: TypeAlias = Annotated[str, StringConstraints(max_length=40), AfterValidator(_a_moment_in_utc)]
"""A moment in UTC in ISO 8601, like 2025-11-03T19:30:00Z."""


def _a_whole_number(value: object) -> object:
    # Python holds True for 1 and 1.0 for 1, and a literal would let them through.
    if type(value) is not int:
        raise ValueError("a whole number is needed here")
    return value


Uuid: TypeAlias = Annotated[str, StringConstraints(pattern=r"\A[0-9a-fA-F]{8}(-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}\z")]


class Entry(BaseModel):
    """One thing that happened to one sock. `round` is its place afterwards: how many rounds are done.

    Remarks leave the place where it is and carry what was remarked in `data`; one that was taken back has lost it, and
    only its name and place remain, so that it is known wherever it turns up again. `after` are the ids of the moves
    that a move goes on from; without it, it goes on from everything before it in the order.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    id: Uuid
    device: Uuid
    clock: Annotated[int, Field(strict=True, ge=1, le=HIGHEST_CLOCK)]
    at: Moment
    sock: Annotated[Sock, BeforeValidator(_a_whole_number)]
    kind: Literal[Move, Remark]
    round: Annotated[int, Field(strict=True, ge=0, le=MOST_ROUNDS)]
    data: Annotated[dict[str, Any] | None, Field(validate_default=True)] = None

    after: Annotated[tuple[Uuid, ...], Field(max_length=MOST_GONE_ON_FROM, fail_fast=True)] | None = None

    @field_validator("data")
    @classmethod
    def _carries_what_its_kind_does(cls, data: dict[str, Any] | None, info: ValidationInfo) -> dict[str, Any] | None:
        # An unknown kind is reported by itself.
        return checked_remark(info.data["kind"], data) if "kind" in info.data else data

    @property
    def emptied(self) -> bool:
        """Whether it is a remark that was taken back, and what it said is gone."""
        return self.kind in SHAPES and self.data is None

    def order(self) -> tuple[int, str, str]:
        """Sorts the entries of all devices the same way everywhere."""
        return self.clock, self.device, self.id

    def as_json(self) -> dict[str, Any]:
        """The entry as it travels: what it does not carry is left out."""
        return self.model_dump(mode="json", exclude_none=True)


def read_entry(data: object) -> tuple[Entry | None, list[Fault]]:
    """An entry from parsed JSON, or what is wrong with it."""
    try:
        return Entry.model_validate(data), []
    except ValidationError as error:
        return None, faults_of(error)


def rounds_done(entries: Iterable[Entry]) -> dict[Sock, int]:
    """Rounds done of each sock: the `round` of its last move, 0 when it has none."""
    found: dict[Sock, int] = dict.fromkeys(SOCKS, 0)
    for entry in sorted((one for one in entries if one.kind in MOVES), key=Entry.order):
        found[entry.sock] = entry.round
    return found


def left_out(entries: Iterable[Entry]) -> set[str]:
    """The ids of what the knitter took back as a mistake.

    An emptied remark is one of them also where the withdrawal that emptied it has not arrived yet.
    """
    log = list(entries)
    emptied = {entry.id for entry in log if entry.emptied}
    return emptied | {entry.data["entry"] for entry in log if entry.kind == "withdrawal" and entry.data}


def standing(entries: Iterable[Entry], kind: Remark) -> list[Entry]:
    """The remarks of a kind that were not taken back, in order."""
    log = list(entries)
    out = left_out(log)
    return sorted((entry for entry in log if entry.kind == kind and entry.id not in out), key=Entry.order)


class Moving(Protocol):
    """What tells whether a move is an end."""

    @property
    def id(self) -> str:
        """Its name among all entries."""

    @property
    def sock(self) -> Sock:
        """The sock that it moves."""

    @property
    def kind(self) -> str:
        """How it moves: `count`, `undo` or `go`."""

    @property
    def after(self) -> tuple[str, ...] | None:
        """The ids of the moves that it goes on from; None where that was not written down."""

    def order(self) -> tuple[int, str, str]:
        """What sorts moves: clock, device and id."""


AnyMove = TypeVar("AnyMove", bound=Moving)


def ends(entries: Iterable[AnyMove]) -> dict[Sock, list[AnyMove]]:
    """The moves of each sock that no other goes on from, in order; the last of them is its place.

    Where their rounds differ, devices have counted apart, and only the knitter knows which of them is right.
    """
    found: dict[Sock, dict[str, AnyMove]] = {sock: {} for sock in SOCKS}
    for entry in sorted((one for one in entries if one.kind in MOVES), key=lambda one: one.order()):
        open_ends = found[entry.sock]
        for gone_on_from in list(open_ends) if entry.after is None else entry.after:
            open_ends.pop(gone_on_from, None)
        open_ends[entry.id] = entry
    return {sock: list(open_ends.values()) for sock, open_ends in found.items()}


def ahead_of_all(entries: Iterable[Entry], highest: int) -> dict[str, Fault]:
    """What is wrong with entries whose clocks are too far ahead, by their ids; `highest` is known without them."""
    found = {}
    for entry in sorted(entries, key=Entry.order):
        allowed = highest + FURTHEST_AHEAD
        if entry.clock > allowed:
            found[entry.id] = Fault("clock", str(entry.clock), f"allowed up to {allowed}, so far ahead of all others")
        else:
            highest = max(highest, entry.clock)
    return found


def highest_clock(entries: Iterable[Entry]) -> int:
    """The highest clock in the entries, 0 when there are none."""
    return max((entry.clock for entry in entries), default=0)
