"""A change that was accepted on a phone without network, to be calculated again by the server. Pure.

It names what it was made from: the revision, and the logbook up to a clock. From the same the same plan follows, and
the server takes it; where anything else is known by now, the knitter is asked.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import replace
from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from ..planning.frozen_model import FrozenModel
from ..planning.plan.document import MOST_ROUNDS
from .accepted import Accepted
from .checking.check_result import CheckResult
from .checking.way_taken import way_taken
from .logbook import HIGHEST_CLOCK, Sock, ends
from .revisions import Revision
from .state import PairState

Number = Annotated[int, Field(strict=True, ge=1, le=100_000)]
Rounds = Annotated[int, Field(strict=True, ge=0, le=MOST_ROUNDS)]


class Proposal(FrozenModel):
    """What was accepted: the way `key` of a check of a sock with `done` rounds, while the other had `other_done`.

    `basis` is the number of the revision that it goes on from, `known` the highest number the phone knew of, taken
    back ones included, and `clock` the highest in its logbook. `plan` is the digest of the plan that it made of it.
    """

    way: Literal["check"]
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
        then = self._as_it_was(pair)
        if then is None or self.done > then.plan(self.sock).count:
            return None
        position = replace(then.position(self.sock), done=self.done)
        found = way_taken(CheckResult(then, position), self.key)
        if found is None or digest_of(found.plan.model_dump_json()) != self.plan:
            return None
        return replace(found, other_done=self.other_done)

    def _as_it_was(self, pair: PairState) -> PairState | None:
        """The pair as the phone knew it; None where the revision that it went on from was taken back."""
        revisions = [one for one in pair.revisions if one.number <= self.basis]
        if not revisions or revisions[-1].number != self.basis:
            return None
        entries = [one for one in pair.entries if one.clock <= self.clock]
        return PairState(pair.title, pair.unit, revisions, ends(entries), entries)

    def is_kept(self, later: Sequence[Revision]) -> bool:
        """Whether it is one of the revisions with numbers above `known`: sent again, it changes nothing."""
        made = (self.sock, self.key, self.plan)
        return any((one.sock, one.option, digest_of(one.plan)) == made for one in later if one.number > self.known)


def digest_of(text: str) -> str:
    """The SHA-256 of a plan document, in hexadecimal digits."""
    return hashlib.sha256(text.encode()).hexdigest()


def proposed(pair: PairState, sock: Sock, done: int, key: str, known: int) -> tuple[Proposal, Accepted] | None:
    """What a phone that knows this pair proposes; None where the check has no such way, or it leaves the plan."""
    position = replace(pair.position(sock), done=done)
    found = way_taken(CheckResult(pair, position), key)
    if found is None or found.plan == position.plan:
        return None
    other: Sock = 2 if sock == 1 else 1
    return (
        Proposal(
            way="check",
            key=key,
            sock=sock,
            done=done,
            other_done=pair.done[other],
            basis=pair.newest,
            known=known,
            clock=pair.clock,
            plan=digest_of(found.plan.model_dump_json()),
        ),
        found,
    )
