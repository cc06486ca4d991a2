"""What is left of each yarn, what sock and pair take yet, and where a yarn ends that does not reach."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import Literal, TypeAlias

from ..fabric.second_sock import as_second_sock, main_yarn
from ..fit.targets import Fabric, fit_of
from ..frozen_model import FrozenModel
from ..plan.document import Plan
from ..request.plan_request import Yarn
from ..units import both_units, both_yardages
from .loops import loop_length
from .requirement import each_cm_by_yarn
from .weighing import Amount, Use, Weighed, use_of

Reaches: TypeAlias = Literal["enough", "may run out", "runs out"]
Done: TypeAlias = tuple[int, int]
"""Rounds done of sock 1 and of sock 2."""


@dataclass(frozen=True)
class Course:
    """One sock of a pair: what it takes of each yarn up to each of its rounds, in stitches.

    Floats, cast-on, bind-off and the stitches of a pattern count as many plain ones as have the same yarn in them.
    """

    sock: int
    plan: Plan
    taken: Mapping[str, Sequence[float]]

    def up_to(self, yarn: str, done: int) -> float:
        """Stitches of a yarn in the first rounds; a place beyond the sock is its end."""
        taken = self.taken[yarn]
        return taken[min(done, len(taken) - 1)]

    def whole(self, yarn: str) -> float:
        """Stitches of a yarn in the whole sock."""
        return self.taken[yarn][-1]


def course_of(plan: Plan, sock: int, fabric: Fabric) -> Course:
    """The course of a sock (1 or 2) that follows a plan, counted in stitches of this fabric."""
    main = main_yarn(plan.request, sock)
    stitch = loop_length(fabric)
    rounds = (as_second_sock(plan) if sock == 2 else plan).rounds()
    each = each_cm_by_yarn(plan.request, rounds, fabric, main)
    taken: dict[str, Sequence[float]] = {
        yarn.key: tuple(accumulate((used.get(yarn.key, 0.0) / stitch for used in each), initial=0.0))
        for yarn in plan.request.yarns
    }
    return Course(sock, plan, taken)


class RoundOfPair(FrozenModel):
    """A round of a pair: the sock, the part of it, and the number of the round, in the part and in the sock."""

    sock: int
    section: str
    in_section: int
    round: int


class YarnEnd(FrozenModel):
    """Where a yarn ends: about there, perhaps as early as `early`, and at `late` at the latest, if it ends at all."""

    about: RoundOfPair | None
    early: RoundOfPair
    late: RoundOfPair | None


class YarnLeft(FrozenModel):
    """One yarn of a pair. `knitted` are the stitches so far, `cm` the yarn in one of them.

    `sock` and `pair` are what the sock on the needles and the pair take yet, `after` is what is then left of it.
    """

    key: str
    name: str
    metres_per_100g: float
    use: Use
    cm: float
    knitted: float
    sock_stitches: float
    pair_stitches: float
    now: Amount
    sock: Amount
    pair: Amount
    after: Amount
    reaches: Reaches
    ends: YarnEnd | None


@dataclass(frozen=True)
class Progress:
    """Where a pair is: both socks, the rounds done of each, the one on the needles, and whether they take turns."""

    courses: tuple[Course, Course]
    done: Done
    sock: int
    in_turn: bool = False

    def knitted(self, yarn: str, done: Done | None = None) -> float:
        """Stitches of a yarn in both socks so far, or at another place."""
        return sum(course.up_to(yarn, rounds) for course, rounds in zip(self.courses, done or self.done, strict=True))

    def ahead(self) -> list[tuple[Course, int]]:
        """The rounds still to be knitted, by their number from 0, in the order of knitting."""
        left = [
            (course, number)
            for course, done in zip(self.courses, self.done, strict=True)
            for number in range(done, course.plan.count)
        ]
        if self.in_turn:
            return sorted(left, key=lambda one: (one[1], one[0].sock))
        return sorted(left, key=lambda one: one[0].sock != self.sock)


def progress_of(plans: tuple[Plan, Plan], done: Done, sock: int = 1) -> Progress:
    """Where a pair is whose socks follow these plans; both are counted in the stitches of the first one's fabric."""
    fabric = fit_of(plans[0].request).fabric
    first, second = (course_of(plan, number, fabric) for number, plan in enumerate(plans, start=1))
    in_turn = plans[0].request.needles.two_at_a_time
    return Progress((first, second), done, sock, in_turn)


def yarns_left(progress: Progress, weighings: Mapping[str, Sequence[tuple[float, Done]]]) -> tuple[YarnLeft, ...]:
    """Each yarn of the pair. `weighings` has for its key the grams left and the rounds done then, oldest first."""
    ahead = progress.ahead()
    return tuple(
        _yarn_left(progress, ahead, yarn, weighings.get(yarn.key, ()))
        for yarn in progress.courses[0].plan.request.yarns
    )


def _yarn_left(
    progress: Progress, ahead: Sequence[tuple[Course, int]], yarn: Yarn, weighings: Sequence[tuple[float, Done]]
) -> YarnLeft:
    key = yarn.key
    request = progress.courses[0].plan.request
    stitch = loop_length(fit_of(request).fabric)
    model = (
        f"At the plan’s gauge a {'knit ' if request.leg.stitch_pattern else ''}stitch has {both_units(stitch)} of "
        f"yarn in it, and the yarn has {both_yardages(yarn.metres_per_100g)}"
    )
    weighed = [Weighed(grams, progress.knitted(key, done)) for grams, done in weighings]
    use = use_of(stitch / yarn.metres_per_100g * 1000, yarn.grams, weighed, model)
    knitted = progress.knitted(key)
    whole = sum(course.whole(key) for course in progress.courses)
    this = progress.courses[progress.sock - 1]
    sock = this.whole(key) - this.up_to(key, progress.done[progress.sock - 1])
    after = use.left(whole)
    # What no round takes any more reaches, however little of it is left.
    low, likely = (after.low, after.grams) if whole > knitted else (0.0, 0.0)
    return YarnLeft(
        key=key,
        name=yarn.name,
        metres_per_100g=yarn.metres_per_100g,
        use=use,
        cm=use.per_thousand * yarn.metres_per_100g / 1000,
        knitted=knitted,
        sock_stitches=sock,
        pair_stitches=whole - knitted,
        now=use.left(knitted),
        sock=use.taken(sock),
        pair=use.taken(whole - knitted),
        after=after,
        reaches="enough" if low >= 0 else "may run out" if likely >= 0 else "runs out",
        ends=_ending(use, knitted, list(_reached(ahead, key)), ahead) if low < 0 else None,
    )


def _reached(ahead: Sequence[tuple[Course, int]], yarn: str) -> Iterator[float]:
    """Stitches of a yarn from here to the end of each round ahead."""
    return accumulate(course.up_to(yarn, number + 1) - course.up_to(yarn, number) for course, number in ahead)


def _ending(use: Use, knitted: float, reached: Sequence[float], ahead: Sequence[tuple[Course, int]]) -> YarnEnd:
    """Where a yarn ends that may not reach for the pair, in rounds."""

    def where(edge: Literal["low", "grams", "high"]) -> RoundOfPair | None:
        at = bisect_left(reached, True, key=lambda stitches: getattr(use.left(knitted + stitches), edge) < 0)
        return _where(*ahead[at]) if at < len(ahead) else None

    early = where("low")
    # The sum of the rounds can lie a last bit below the whole.
    return YarnEnd(about=where("grams"), early=early or _where(*ahead[-1]), late=where("high"))


def _where(course: Course, number: int) -> RoundOfPair:
    section, span = next((section, span) for section, span in course.plan.spans() if number in span)
    return RoundOfPair(sock=course.sock, section=section.title, in_section=span.index(number) + 1, round=number + 1)
