"""A pair as one JSON file, to keep elsewhere or to take to another server. Pure.

It holds all that the server knows of the pair but its link: title, unit, every revision of the plan, the taken back
ones included, and the logbook. Photos are not in it; they never leave the phone.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Annotated, Any, Literal

from pydantic import Field, StringConstraints, ValidationError, model_validator

from .logbook import MOST_ROUNDS, Entry, Sock
from .planning.faults import Fault, faults_of
from .planning.reading import read_plan
from .planning.request import Asked
from .planning.units import Unit

VERSION = 1
"""Of the format. It goes up when a program that reads the older one would go wrong on the newer one."""

MOST_TOLD = 10
"""Faults of one file that are told; the rest follows from the first ones more often than not."""

Words = Annotated[str, StringConstraints(strict=True, max_length=20_000)]


class KeptRevision(Asked):
    """An accepted or withdrawn plan of a pair, as in `pair.Revision`, with the check that led to it."""

    number: int = Field(strict=True, ge=1, le=100_000)
    sock: Sock
    done: int = Field(strict=True, ge=0, le=MOST_ROUNDS)
    other_done: int = Field(strict=True, ge=0, le=MOST_ROUNDS)
    gauge_check: Words | None = None
    option: Words | None = None
    summary: Words = ""
    state: Literal["accepted", "withdrawn"] = "accepted"
    created: Words
    plan: dict[str, Any]


class PairFile(Asked):
    """A whole pair."""

    format: Literal["tapeline pair"]
    version: Literal[1]
    title: Annotated[str, StringConstraints(strict=True, max_length=200)]
    unit: Unit
    revisions: Annotated[tuple[KeptRevision, ...], Field(min_length=1, max_length=1000)]
    log: Annotated[tuple[Entry, ...], Field(max_length=200_000)] = ()

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
        """The file's text, the logbook one entry a line."""
        document = self.model_dump(mode="json", exclude={"log"})
        head = json.dumps(document, ensure_ascii=False, indent=1).removesuffix("\n}")
        lines = ",\n".join(json.dumps(entry.as_json(), ensure_ascii=False) for entry in self.log)
        return f'{head},\n "log": [\n{lines}\n ]\n}}\n'


def read_pair_file(data: Any) -> tuple[PairFile | None, Sequence[Fault]]:
    """A pair from parsed JSON, or what is wrong with it."""
    if not isinstance(data, dict) or data.get("format") != "tapeline pair":
        return None, [Fault("", "", "this is no exported pair; export one from the menu of its knit page")]
    version = data.get("version")
    if isinstance(version, int) and version > VERSION:
        newer = (
            f"a newer Tapeline has written it; this one reads version {VERSION}. Import it there, or update this one"
        )
        return None, [Fault("version", str(version), newer)]
    try:
        found = PairFile.model_validate(data)
    except ValidationError as error:
        return None, faults_of(error)[:MOST_TOLD]
    for number, revision in enumerate(found.revisions):
        plan, faults = read_plan(revision.plan)
        if plan is None:
            where = f"revisions.{number}.plan"
            return None, [Fault(f"{where}.{one.where}", one.given, one.message) for one in faults][:MOST_TOLD]
    return found, []
