"""A pair as one JSON file, to keep elsewhere or to take to another server. Pure.

It holds all that the server knows of the pair but its link: title, unit, every revision of the plan, the taken back
ones included, the logbook, and which design it follows. Photos are not in it; they never leave the phone.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Annotated, Any, Literal

from pydantic import FailFast, Field, StringConstraints, ValidationError, model_validator

from ..planning import Fault, read_plan
from ..planning.faults import faults_of
from ..planning.frozen_model import FrozenModel
from ..planning.plan.document import MOST_ROUNDS
from ..planning.units import Unit
from ..strict_json import read_json
from .logbook import HIGHEST_CLOCK, MOST_ENTRIES, Entry, Moment, Sock, ends, highest_clock
from .revisions import MOST_REVISIONS, Revision
from .state import PairState

VERSION = 2
"""Of the format. It goes up when a program that reads the older one would go wrong on the newer one. A pair that
follows no design is still written as version 1."""

Words = Annotated[str, StringConstraints(strict=True, max_length=20_000)]


class KeptRevision(FrozenModel):
    """An accepted or withdrawn plan of a pair, as in `pair.Revision`, with the check that led to it."""

    number: int = Field(strict=True, ge=1, le=100_000)
    sock: Sock
    done: int = Field(strict=True, ge=0, le=MOST_ROUNDS)
    other_done: int = Field(strict=True, ge=0, le=MOST_ROUNDS)
    gauge_check: Words | None = None
    option: Words | None = None
    summary: Words = ""
    state: Literal["accepted", "withdrawn"] = "accepted"
    created: Moment
    plan: dict[str, Any]


class Follows(FrozenModel):
    """The design that a pair follows: the SHA-256 of the link that followers join it by, in hexadecimal digits, which
    opens nothing; the version that the plan was made by, and the newest that its knitter has left."""

    design: Annotated[str, StringConstraints(strict=True, pattern="^[0-9a-f]{64}$")]
    version: int = Field(strict=True, ge=1, le=100_000)
    left: int = Field(0, strict=True, ge=0, le=100_000)


class PairFile(FrozenModel):
    """A whole pair."""

    format: Literal["tapeline pair"]
    version: Literal[1, 2]
    title: Annotated[str, StringConstraints(strict=True, max_length=200)]
    unit: Unit
    revisions: Annotated[tuple[KeptRevision, ...], FailFast(), Field(min_length=1, max_length=MOST_REVISIONS)]
    log: Annotated[tuple[Entry, ...], FailFast(), Field(max_length=MOST_ENTRIES)] = ()
    copy_of: Annotated[str, StringConstraints(strict=True, max_length=64)] | None = None
    """The mark of the pair, where a copy of it to count from has saved the file."""
    follows: Follows | None = None

    @model_validator(mode="after")
    def _hangs_together(self) -> PairFile:
        numbers = [revision.number for revision in self.revisions]
        if numbers != sorted(set(numbers)):
            raise ValueError("the revisions have to be in the order of their numbers, each once")
        if self.revisions[0].state != "accepted":
            raise ValueError("the first revision, the plan that the pair was begun with, cannot be taken back")
        if len({entry.id for entry in self.log}) != len(self.log):
            raise ValueError("two entries of the logbook have the same id")
        return self

    def as_text(self) -> str:
        """The file's text, each revision and each entry of the logbook on one line."""
        head = _compact(self.model_dump(mode="json", exclude={"revisions", "log"}, exclude_none=True)).removesuffix("}")
        revisions = ",\n".join(_compact(one.model_dump(mode="json")) for one in self.revisions)
        entries = ",\n".join(_compact(one.as_json()) for one in self.log)
        return f'{head},\n"revisions":[\n{revisions}\n],\n"log":[\n{entries}\n]}}\n'

    def changes(self) -> list[tuple[str, str]]:
        """When each accepted change was made (ISO 8601), and what it was, in a line."""
        accepted = [one for one in self.revisions if one.state == "accepted" and one.summary]
        return [(one.created, one.summary.partition("\n")[0]) for one in accepted]

    def as_state(self) -> PairState:
        """The pair as its accepted revisions and its logbook make it."""
        accepted = [
            Revision(one.number, one.sock, one.done, one.other_done, one.summary, _compact(one.plan), one.option or "")
            for one in self.revisions
            if one.state == "accepted"
        ]
        return PairState(self.title, self.unit, accepted, ends(self.log), self.log)


def _compact(data: dict[str, Any]) -> str:
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"))


def read_pair_file(data: Any) -> tuple[PairFile | None, Sequence[Fault]]:
    """A pair from parsed JSON, or what is wrong with it."""
    if not isinstance(data, dict) or data.get("format") != "tapeline pair":
        return None, [Fault("", "", "this is no exported pair; export one from the menu of its knit page")]
    version = data.get("version")
    if isinstance(version, int) and version > VERSION:
        newer = (
            f"a newer Tapeline has written it; this one reads version {VERSION}. Import it there, or update this one"
        )
        return None, [Fault("", "", newer)]
    try:
        found = PairFile.model_validate(data)
    except ValidationError as error:
        return None, faults_of(error)
    if highest_clock(found.log) > HIGHEST_CLOCK // 2:
        return None, [Fault("", "", f"clocks above {HIGHEST_CLOCK // 2} leave no room for further counts")]
    for number, revision in enumerate(found.revisions):
        plan, faults = read_plan(revision.plan)
        if plan is None:
            where = f"revisions.{number}.plan"
            return None, [Fault(f"{where}.{one.where}", one.given, one.message) for one in faults]
    return found, []


def file_in(text: str) -> PairFile:
    """A pair from the text of its file. Raises ValueError where it is not sound; the message says why."""
    file, faults = read_pair_file(read_json(text.encode("utf-8", "surrogatepass")))
    if file is None:
        raise ValueError("; ".join(map(str, faults)))
    return file
