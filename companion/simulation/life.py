"""The life of one simulated knitter: a foot, a plan, hands and eyes, and the same sock knitted by each policy."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from ..planning import CannotKnitError, Plan, PlanRequest, make_plan
from ..planning.construction.constructions import HEELS, TOES
from ..planning.fit.targets import fit_of
from ..planning.recalculation.check_places import next_check_place
from ..planning.request.construction import Construction
from ..planning.request.foot import Foot
from ..planning.request.plan_request import Gauge, Leg
from .counting import eyes_of
from .hands import Fabric, hands_of
from .kinds import KINDS, Kind
from .policies import POLICIES, Knitter, Policy, check
from .sock import Sock

FEET = ((24.63, 1.24, 22.81, 1.18, 0.61), (27.12, 1.31, 25.20, 1.29, 0.60))
"""Mean and deviation of length and ball circumference in cm, and their correlation: ANSUR II, women and men."""

FELT_ROUND, FELT_CM = 0.025, 0.4
"""A foot that is off by more than this part round it, or by so many cm along it, is felt (ours)."""

MOST_CHECKS = 12


@dataclass(frozen=True)
class Outcome:
    """What became of one sock.

    Errors are of the finished foot against what was asked for; round it, the mean over all rounds of the plain foot,
    so that a step in it counts on both sides. `counted` are stitches and rounds that were counted, `ripped` stitches
    knitted again, `changes` the times a change was advised. `held` of `stated` ranges held the truth: of the gauge
    at each check, and of the foot's sizes as they were stated last.
    """

    knitter: int
    kind: str
    policy: Policy
    circumference_error: float
    length_error_cm: float
    counted: float
    ripped: int
    changes: int
    gauges_held: int
    gauges_stated: int
    sizes_held: int
    sizes_stated: int

    @property
    def fits(self) -> bool:
        """Whether nothing of the foot is so far off that it is felt."""
        return self.circumference_error <= FELT_ROUND and self.length_error_cm <= FELT_CM


def life_of(seed: int, kind: str, number: int) -> list[Outcome]:
    """One knitter of a kind, who knits the same sock by each policy."""
    draw = Random(f"{seed}/{kind}/{number}")
    request, plan = _planned(draw)
    gauge = request.gauge
    hands = hands_of(KINDS[kind], Fabric(gauge.stitches_per_10cm, gauge.rounds_per_10cm or 0.0), plan.count, draw)
    eyes, places = eyes_of(KINDS[kind], draw), _own_places(KINDS[kind], draw)
    found = []
    for policy in POLICIES:
        knitter = Knitter(Sock(plan, hands), eyes, KINDS[kind].spots, Random(f"{seed}/{kind}/{number}/{policy}"))
        knit(knitter, policy, places)
        found.append(outcome(number, kind, policy, knitter))
    return found


def asked_by(draw: Random) -> PlanRequest:
    """A grown-up's foot, a sock yarn, and any construction."""
    long, long_off, round_, round_off, together = draw.choice(FEET)
    first, second = draw.gauss(0, 1), draw.gauss(0, 1)
    length = long + long_off * first
    ball = round_ + round_off * (together * first + (1 - together**2) ** 0.5 * second)
    stitches = round(draw.uniform(28, 36), 1)
    return PlanRequest(
        foot=Foot(ball_circumference_cm=round(ball, 1), length_cm=round(length, 1)),
        gauge=Gauge(stitches_per_10cm=stitches, rounds_per_10cm=round(stitches * draw.uniform(1.3, 1.42), 1)),
        construction=Construction(
            direction=draw.choice(["cuff-down", "toe-up"]),
            heel=draw.choice(list(HEELS)),
            toe=draw.choice(list(TOES)),
        ),
        leg=Leg(length_cm=round(draw.uniform(8, 18), 1)),
    )


def _planned(draw: Random) -> tuple[PlanRequest, Plan]:
    while True:
        request = asked_by(draw)
        try:
            return request, make_plan(request)
        except CannotKnitError:
            # A foot that no sock can be planned for; she is sent home with the reason, and another comes.
            continue


def _own_places(kind: Kind, draw: Random) -> list[float] | None:
    """Where she checks, as parts of the rounds where she can; None where she does so as the program asks."""
    if kind.own_places is None:
        return None
    return sorted(draw.random() for _ in range(draw.randint(*kind.own_places)))


def knit(knitter: Knitter, policy: Policy, own_places: list[float] | None) -> None:
    """One sock from the first round to the last."""
    at_a_place, sock = POLICIES[policy], knitter.sock
    if at_a_place and own_places is None:
        for _ in range(MOST_CHECKS):
            place = next_check_place(sock.plan, sock.done)
            if place is None:
                break
            sock.knit_to(place.round)
            check(knitter, at_a_place)
    elif at_a_place:
        for part in own_places or ():
            places = sock.places()
            sock.knit_to(places[int(part * len(places))])
            check(knitter, at_a_place)
    sock.knit_to(sock.plan.count)


def outcome(knitter: int, kind: str, policy: Policy, knitted: Knitter) -> Outcome:
    """What became of a finished sock."""
    sock = knitted.sock
    finished, fit = sock.finished(), fit_of(sock.plan.request)
    held = []
    if knitted.ranges:
        stated = knitted.ranges.foot_circumference_cm, knitted.ranges.foot_length_cm
        true = finished.circumference, finished.length
        held = [each.low <= size <= each.high for each, size in zip(stated, true, strict=True)]
    return Outcome(
        knitter=knitter,
        kind=kind,
        policy=policy,
        circumference_error=sum(abs(each / fit.foot_target - 1) for each in finished.around) / len(finished.around),
        length_error_cm=abs(finished.length - fit.length_target),
        counted=knitted.counted,
        ripped=sock.ripped,
        changes=knitted.changes,
        gauges_held=knitted.held,
        gauges_stated=knitted.stated,
        sizes_held=sum(held),
        sizes_stated=len(held),
    )
