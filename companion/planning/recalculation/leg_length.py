"""How long the leg may become with the yarn that is left, so that the second sock can be like the first."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from ..construction.planner import LONGEST_LEG_CM, Given, plan_from
from ..construction.sections.leg import LEG
from ..construction.sizes import stitches_at_the_top
from ..fit.targets import fit_of, nearest
from ..frozen_model import FrozenModel
from ..plan.document import Plan
from ..yarn.forecast import Course, Progress, YarnLeft, course_of
from ..yarn.weighing import Amount
from .ways.sock_in_progress import knitted_part

Edge: TypeAlias = Literal["low", "grams", "high"]


class Reached(FrozenModel):
    """A leg of so many rounds, and what it leaves of the yarn that decides: stitches ahead in both socks, grams."""

    rounds: int
    yarn: str
    ahead: float
    takes: Amount
    left: Amount


class LegReach(FrozenModel):
    """The leg as planned, the legs that `safe`ly and that `likely` reach, and the `most`, beyond which none can.

    None where the yarn does not reach for the leg as far as it is knitted. `before` are the rounds of the sock before
    the leg, `yarn` is the one that decides, `most_allowed` the rounds of the longest leg that a plan can have.
    """

    planned: Reached
    knitted: int
    before: int
    safe: Reached | None
    likely: Reached | None
    most: Reached | None
    yarn: str
    most_allowed: int
    rounds_per_cm: float

    def cm(self, rounds: int) -> float:
        """The length of so many rounds."""
        return rounds / self.rounds_per_cm


def leg_reach(progress: Progress, yarns: Sequence[YarnLeft]) -> LegReach | None:
    """How long the leg may become; None where that is settled.

    It is settled once one of the socks is past its leg, where the socks follow different plans, and where the second
    is further than the first, which the first would have to follow.
    """
    plan, other = (course.plan for course in progress.courses)
    leg = plan.span(LEG.key)
    if plan != other or progress.done[1] > progress.done[0] or progress.done[0] > leg.stop:
        return None
    fit = fit_of(plan.request)
    longest = with_leg(plan, progress.done[0], nearest(LONGEST_LEG_CM * fit.leg.rounds))
    courses = tuple(course_of(longest, course.sock, fit.fabric) for course in progress.courses)
    legs = _Legs(courses, tuple(yarns), leg.start, max(1, progress.done[0] - leg.start), len(longest.span(LEG.key)))
    deciding = min(yarns, key=lambda yarn: legs.reach(yarn, "grams"))
    return LegReach(
        planned=legs.reached(deciding, len(leg)),
        knitted=max(0, progress.done[0] - leg.start),
        before=leg.start,
        safe=legs.longest_by("low"),
        likely=legs.longest_by("grams"),
        most=legs.longest_by("high"),
        yarn=deciding.key,
        most_allowed=legs.most,
        rounds_per_cm=fit.leg.rounds,
    )


@dataclass(frozen=True)
class _Legs:
    """Legs of a pair by their rounds, from the `least`, which are knitted, to the `most` that a plan can have.

    `courses` are the socks with the longest leg, and `start` the rounds before it.
    """

    courses: tuple[Course, ...]
    yarns: tuple[YarnLeft, ...]
    start: int
    least: int
    most: int

    def stitches(self, yarn: str, rounds: int) -> float:
        """Stitches of the pair in a yarn with so long a leg."""
        return sum(
            course.whole(yarn) - course.up_to(yarn, self.start + self.most) + course.up_to(yarn, self.start + rounds)
            for course in self.courses
        )

    def reach(self, yarn: YarnLeft, edge: Edge) -> int:
        """Rounds that a yarn reaches for; one less than are knitted where it does not even do so for them."""
        short = bisect_left(
            range(self.least, self.most + 1),
            True,
            key=lambda rounds: getattr(yarn.use.left(self.stitches(yarn.key, rounds)), edge) < 0,
        )
        return self.least + short - 1

    def reached(self, yarn: YarnLeft, rounds: int) -> Reached:
        """A leg of so many rounds and what it leaves of a yarn."""
        stitches = self.stitches(yarn.key, rounds)
        ahead = stitches - yarn.knitted
        left, takes = yarn.use.left(stitches), yarn.use.taken(ahead)
        return Reached(rounds=rounds, yarn=yarn.key, ahead=ahead, takes=takes, left=left)

    def longest_by(self, edge: Edge) -> Reached | None:
        """The longest leg that every yarn reaches for."""
        rounds, yarn = min(((self.reach(yarn, edge), yarn) for yarn in self.yarns), key=lambda one: one[0])
        return self.reached(yarn, rounds) if rounds >= self.least else None


def with_leg(plan: Plan, done: int, rounds: int) -> Plan:
    """The plan with a leg of so many rounds from the place of a sock on; nothing else of it changes."""
    cm = rounds / fit_of(plan.request).leg.rounds
    leg = plan.request.leg.model_copy(update={"length_cm": cm, "until": "length"})
    request = plan.request.model_copy(update={"leg": leg})
    sizes = plan.sizes
    top = stitches_at_the_top(plan)
    straight = sizes.leg_stitches if top == sizes.leg_stitches else None
    return plan_from(request, knitted_part(plan, done), Given(sizes.leg_stitches, sizes.foot_stitches, straight))
