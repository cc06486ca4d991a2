"""What a changed design would make of the socks of a pair that follows it. What is knitted stays as it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from pydantic import ValidationError

from ...pair.logbook import SOCKS, Sock
from ...planning import CannotKnitError, Plan
from ...planning.faults import faults_of
from ...planning.plan.design import keeping_own
from ...planning.recalculation.changed_request import change_plan, what_lies_ahead
from .followed_design import FollowedDesign


@dataclass(frozen=True)
class Offer:
    """A plan by the changed design for `whose` socks, which goes on from so many rounds (`done`) of theirs.

    `sock` is the one that it was made for. Where the feet differ `other_plan` is that of the other sock, if it changes.
    """

    sock: Sock
    whose: tuple[Sock, ...]
    done: int
    plan: Plan
    other_plan: Plan | None = None

    @property
    def whose_words(self) -> str:
        """The socks that it is for."""
        return "both socks" if self.whose == SOCKS or self.other_plan else f"sock {self.sock}"


def offer_of(led: FollowedDesign, counted: Mapping[Sock, int]) -> Offer | None:
    """The plan by the newest version, for the foot and the gauge that a sock is planned for.

    Both socks get it together while they follow the same plan, or else the first that still can; None where nothing
    that lies ahead would be different. `counted` are rounds that only the page in hand knows of. Raises
    CannotKnitError where no sock can be planned by it.
    """
    done = {sock: max(led.pair.done[sock], counted.get(sock, 0)) for sock in SOCKS}
    ahead = [sock for sock in SOCKS if done[sock] < led.plans[sock].count]
    first = ahead[0] if ahead else 1
    together = tuple(sock for sock in ahead if led.pair.followed[sock] is led.pair.followed[first])
    tried = [together, *((sock,) for sock in ahead)] if together else []
    refused: CannotKnitError | None = None
    for whose in dict.fromkeys(tried):
        sock, at = whose[0], max(done[one] for one in whose)
        try:
            plan = _planned(led, sock, at)
            along = plan and _planned_along(led, sock, done)
        except CannotKnitError as error:
            refused = refused or error
        else:
            if plan:
                return Offer(sock, whose, at, plan, along)
    if refused:
        raise refused
    return None


def _planned(led: FollowedDesign, sock: Sock, done: int) -> Plan | None:
    """The plan of a sock after so many rounds; None where nothing is asked for that it has not already."""
    plan = led.plans[sock]
    before = plan.request
    try:
        wanted = keeping_own(led.design, led.taken_design or led.design, before)
    except ValidationError as error:
        raise CannotKnitError(faults_of(error)[0]) from error
    possible = what_lies_ahead(plan, done, wanted)
    return None if possible == before else change_plan(plan, done, possible)


def _planned_along(led: FollowedDesign, sock: Sock, done: Mapping[Sock, int]) -> Plan | None:
    """The plan of the other sock for its own foot; None where the feet are alike, or nothing changes for it."""
    other: Sock = 2 if sock == 1 else 1
    ahead = done[other] < led.plans[other].count
    return _planned(led, other, done[other]) if ahead and led.plans[sock].request.two_feet else None
