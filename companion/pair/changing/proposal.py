"""A change that was accepted on a phone without network, to be calculated again by the server. Pure.

It names what it was made from: the revision, and the logbook up to a clock. From the same the same plan follows, and
the server takes it; where anything else is known by now, the knitter is asked.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated, Any

from pydantic import Field, StringConstraints

from ...planning.frozen_model import FrozenModel
from ...planning.plan.document import MOST_ROUNDS
from ..logbook import HIGHEST_CLOCK, Sock
from ..revisions import Revision
from ..state import PairState
from .accepted import Accepted
from .choice_page import CHOICES, Choice

Number = Annotated[int, Field(strict=True, ge=1, le=100_000)]
Rounds = Annotated[int, Field(strict=True, ge=0, le=MOST_ROUNDS)]


@dataclass(frozen=True)
class AsItWas(PairState):
    """A pair as a phone knew it: its socks are where they were then."""

    rounds: Mapping[Sock, int]

    @property
    def done(self) -> dict[Sock, int]:
        """Rounds done of each sock at that time."""
        return dict(self.rounds)


class TakenBack(FrozenModel):
    """The change of a sock that was taken back, by the number of its revision."""

    back: Number
    sock: Sock


class Proposal(FrozenModel):
    """What was accepted: `key` on the page of a choice, for a sock with `done` rounds while the other had `other_done`.

    `basis` is the number of the revision that it goes on from, `known` the highest number the phone knew of, taken
    back ones included, and `clock` the highest in its logbook. `plan` is the digest of the plan that it made of it.
    """

    choice: Choice
    key: Annotated[str, StringConstraints(strict=True, max_length=64)]
    sock: Sock
    done: Rounds
    other_done: Rounds
    basis: Number
    known: Number
    clock: Annotated[int, Field(strict=True, ge=0, le=HIGHEST_CLOCK)]
    plan: Annotated[str, StringConstraints(strict=True, pattern=r"\A[0-9a-f]{64}\z")]

    def accepted(self, pair: PairState) -> Accepted | None:
        """What follows from a pair that may know more by now; None where it is not the plan of the phone."""
        found = self.found(pair)
        return found if found and digest_of(found.plan.model_dump_json()) == self.plan else None

    def found(self, pair: PairState) -> Accepted | None:
        """What follows from the pair as it was; None where that can no longer be known, or nothing follows."""
        revisions = [one for one in pair.revisions if one.number <= self.basis]
        if not revisions or revisions[-1].number != self.basis:
            return None
        entries = [one for one in pair.entries if one.clock <= self.clock]
        rounds: dict[Sock, int] = {self.sock: self.done, (2 if self.sock == 1 else 1): self.other_done}
        then = AsItWas(pair.title, pair.unit, revisions, pair.ends, entries, rounds)
        if self.done > then.plan(self.sock).count:
            return None
        accepted = CHOICES[self.choice].taken(then, then.position(self.sock), self.key)
        return accepted and replace(accepted, other_done=self.other_done)

    def is_kept(self, later: Sequence[Revision]) -> bool:
        """Whether it is one of the revisions with numbers above `known`: sent again, it changes nothing."""
        made = (self.sock, self.plan)
        return any((one.sock, digest_of(one.plan)) == made for one in later if one.number > self.known)


def digest_of(text: str) -> str:
    """The SHA-256 of a plan document, in hexadecimal digits."""
    return hashlib.sha256(text.encode()).hexdigest()


def proposed(pair: PairState, chosen: Mapping[str, Any], known: int) -> tuple[Proposal, Accepted]:
    """What a phone that knows this pair proposes; `chosen` are the fields of it that the page knows.

    Raises ValueError where nothing follows from them.
    """
    draft = Proposal.model_validate(
        {
            **chosen,
            "other_done": pair.done[2 if chosen["sock"] == 1 else 1],
            "basis": pair.newest,
            "known": known,
            "clock": pair.clock,
            "plan": "0" * 64,
        }
    )
    found = draft.found(pair)
    if found is None:
        raise ValueError("there is no such way to go on")
    return draft.model_copy(update={"plan": digest_of(found.plan.model_dump_json())}), found
