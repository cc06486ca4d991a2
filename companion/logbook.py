"""The logbook: everything that happened while knitting, in order. Pure.

Entries come from several devices that may have been without network for weeks. Each carries a Lamport clock
(L. Lamport, Communications of the ACM 21, 1978, 558): one more than the highest clock its writer had seen.
The order by clock, then device, then id is therefore the same wherever the same entries are, and what was
written in the knowledge of an entry comes after it.

A move also names the moves that it goes on from. Those that no other goes on from are the ends of the log: one
when everybody counted on from the last, and several when devices counted apart, as in a register that keeps every
value written without knowledge of the others (Shapiro et al., INRIA report 7506, 2011, section 3.2.2).
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Annotated, Any, Literal, TypeAlias, get_args

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

from .planning.faults import Fault, faults_of
from .remarks import Remark, a_sound_remark

Move: TypeAlias = Literal["count", "undo", "go"]
"""The kinds that move a sock's place."""
MOVES = frozenset(get_args(Move))

Sock: TypeAlias = Literal[1, 2]
SOCKS: tuple[Sock, Sock] = (1, 2)

MOST_ROUNDS = 5000
"""More rounds than any sock has (ours); a plan of the longest leg at the finest gauge has fewer."""

HIGHEST_CLOCK = 2**53 - 1
"""The largest whole number that a browser keeps exactly (ECMAScript, Number.MAX_SAFE_INTEGER)."""

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


def _a_whole_number(value: object) -> object:
    # Python holds True for 1 and 1.0 for 1, and a literal would let them through.
    if type(value) is not int:
        raise ValueError("a whole number is needed here")
    return value


Uuid: TypeAlias = Annotated[str, StringConstraints(pattern=r"\A[0-9a-fA-F]{8}(-[0-9a-fA-F]{4}){3}-[0-9a-fA-F]{12}\z")]


class Entry(BaseModel):
    """One thing that happened to one sock. `round` is its place afterwards: how many rounds are done.

    Remarks leave the place where it is and carry what was remarked in `data`. `after` are the ids of the moves
    that a move goes on from; without it, it goes on from everything before it in the order.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    id: Uuid
    device: Uuid
    clock: Annotated[int, Field(strict=True, ge=1, le=HIGHEST_CLOCK)]
    at: Annotated[str, StringConstraints(max_length=40), AfterValidator(_a_moment_in_utc)]
    sock: Annotated[Sock, BeforeValidator(_a_whole_number)]
    kind: Literal[Move, Remark]
    round: Annotated[int, Field(strict=True, ge=0, le=MOST_ROUNDS)]
    data: Annotated[dict[str, Any] | None, Field(validate_default=True)] = None

    after: Annotated[tuple[Uuid, ...], Field(max_length=MOST_GONE_ON_FROM)] | None = None

    @field_validator("data")
    @classmethod
    def _carries_what_its_kind_does(cls, data: dict[str, Any] | None, info: ValidationInfo) -> dict[str, Any] | None:
        # A kind that is none is told of by itself.
        return a_sound_remark(info.data["kind"], data) if "kind" in info.data else data

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


def places(entries: Iterable[Entry]) -> dict[Sock, int]:
    """The place of each sock: the `round` of its last move, 0 when it has none."""
    found: dict[Sock, int] = dict.fromkeys(SOCKS, 0)
    for entry in sorted((one for one in entries if one.kind in MOVES), key=Entry.order):
        found[entry.sock] = entry.round
    return found


def left_out(entries: Iterable[Entry]) -> set[str]:
    """The ids of what the knitter took back as a slip of the pen."""
    return {entry.data["entry"] for entry in entries if entry.kind == "withdrawal" and entry.data}


def ends(entries: Iterable[Entry]) -> dict[Sock, list[Entry]]:
    """The moves of each sock that no other goes on from, in order; the last of them is its place.

    Where their rounds differ, devices have counted apart, and only the knitter knows which of them is right.
    """
    found: dict[Sock, dict[str, Entry]] = {sock: {} for sock in SOCKS}
    for entry in sorted((one for one in entries if one.kind in MOVES), key=Entry.order):
        open_ends = found[entry.sock]
        for gone_on_from in list(open_ends) if entry.after is None else entry.after:
            open_ends.pop(gone_on_from, None)
        open_ends[entry.id] = entry
    return {sock: list(open_ends.values()) for sock, open_ends in found.items()}


def highest_clock(entries: Iterable[Entry]) -> int:
    """The highest clock in the entries, 0 when there are none."""
    return max((entry.clock for entry in entries), default=0)
