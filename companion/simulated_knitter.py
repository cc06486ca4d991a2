"""A simulated knitter: a true foot, a true gauge, counting errors, and a sock knitted by one of three policies.

What is simulated, and what is not. The fabric differs from spot to spot by one part in a hundred; counts are read to
the nearest whole; three spots are counted at each place where the program asks for a check, of 10 cm where the sock is
wide and long enough, and more where it asks for more. The knitter accepts what is recommended at once. Feet are
measured without error, rounds are knitted as told, and stretching, washing and mistakes are left out.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random
from typing import Literal, TypeAlias

from .planning.check import Check, Spot
from .planning.check_places import check_places
from .planning.decision import more_to_count
from .planning.document import Plan
from .planning.evidence import gauges_of
from .planning.faults import CannotKnitError
from .planning.fit import fit_of
from .planning.observed import Evidence, assumed
from .planning.planner import make_plan
from .planning.recalculation import planned_gauge, recalculate
from .planning.request import Construction, Foot, Gauge, Leg, PlanRequest
from .planning.ways import ways_on

Policy: TypeAlias = Literal["never check", "follow each check", "this tool"]
POLICIES: tuple[Policy, ...] = ("never check", "follow each check", "this tool")
Group: TypeAlias = Literal["right", "off", "drifting"]

OFF, DRIFT, SPREAD = 0.12, 0.06, 0.01
"""Parts by which the true gauge may be off, or drift over a sock, and by which the fabric differs between spots."""

SHARES: dict[Group, float] = {"off": 0.6, "right": 0.2, "drifting": 0.2}

SPOTS, MOST_SPOTS, WIDEST_CM, TALLEST_CM = 3, 8, 10.0, 10.0

FEET = ((24.63, 1.24, 22.81, 1.18, 0.61), (27.12, 1.31, 25.20, 1.29, 0.60))
"""Mean and deviation of length and ball circumference in cm, and their correlation: ANSUR II, women and men."""

PATIENCE = 2
"""How often a knitter counts once more at one place."""

MOST_CHECKS = 12


@dataclass(frozen=True)
class Truth:
    """The gauge over 10 cm that the knitter really has at each part of the way through the sock."""

    stitches: float
    rounds: float
    drift: float

    def at(self, part: float) -> tuple[float, float]:
        """Stitches and rounds where so much of the sock is knitted."""
        moved = 1 + self.drift * part
        return self.stitches * moved, self.rounds * moved


@dataclass
class Outcome:
    """What became of one sock.

    Errors are of the finished foot against what was asked for; round it, the mean over all rounds of the plain foot,
    so that a step in it counts on both sides.
    """

    knitter: int
    group: Group
    policy: Policy
    circumference_error: float
    length_error_cm: float
    ripped: int
    told: bool
    checks: int


@dataclass
class Sock:
    """A sock on the needles."""

    plan: Plan
    truth: Truth
    done: int = 0
    ripped: int = 0
    told: bool = False
    evidence: list[Evidence] = field(default_factory=list)
    knitted: list[tuple[float, float]] = field(default_factory=list)

    def knit_to(self, done: int) -> None:
        """Knit on, or rip back, to a place; the fabric has the gauge of the time when it was knitted."""
        total = self.plan.count
        del self.knitted[done:]
        self.knitted += [self.truth.at(number / total) for number in range(len(self.knitted), done)]
        self.done = done


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
            heel=draw.choice(["flap", "short-row", "short-row with gusset", "afterthought"]),
            toe=draw.choice(["wedge", "short-row", "round"]),
        ),
        leg=Leg(length_cm=round(draw.uniform(8, 18), 1)),
    )


def truth_behind(request: PlanRequest, group: Group, draw: Random) -> Truth:
    """The knitter's own gauge: as planned, off, or off and drifting."""
    off = {"right": 0.0, "off": OFF, "drifting": OFF / 2}[group]
    stitches, rounds = request.gauge.stitches_per_10cm, request.gauge.rounds_per_10cm or 0.0
    return Truth(
        stitches * (1 + draw.uniform(-off, off)),
        rounds * (1 + draw.uniform(-off, off)),
        draw.uniform(-DRIFT, DRIFT) if group == "drifting" else 0.0,
    )


def counted(sock: Sock, spots: tuple[int, int], draw: Random) -> Check:
    """So many spots for stitches and for rounds, on the fabric just below the needles."""
    stitches, rounds = sock.knitted[sock.done - 1]
    width = min(WIDEST_CM, 0.9 * sock.plan.rounds()[sock.done - 1].after / stitches * 10 / 2)
    height = min(TALLEST_CM, _fabric_below(sock) / rounds * 10)

    def spot(gauge: float, over: float) -> Spot:
        here = gauge * draw.gauss(1, SPREAD)
        length = round(over * 2) / 2
        return Spot(count=float(round(here * length / 10)), over_cm=length)

    return Check(
        stitches=tuple(spot(stitches, width) for _ in range(spots[0])),
        rounds=tuple(spot(rounds, height) for _ in range(spots[1])),
        round=sock.done,
    )


def _fabric_below(sock: Sock) -> int:
    """Rounds of plain knitting to count on: the longest stretch of leg, gusset, foot or middle of the toe so far."""
    per_cm = fit_of(sock.plan.request).fabric.rounds
    longest = 0
    for section, span in sock.plan.spans():
        if section.key in ("leg", "foot", "gusset", "toe"):
            high = min(len(span), round(section.length_cm * per_cm))
            longest = max(longest, min(high, sock.done - span.start))
    return longest


def check_blindly(sock: Sock, draw: Random) -> None:
    """Take one check for the truth, and do what follows from it."""
    check = counted(sock, (SPOTS, SPOTS), draw)
    gauge = {}
    for entry, spots in (("stitches_per_10cm", check.stitches), ("rounds_per_10cm", check.rounds)):
        if spots:
            gauge[entry] = sum(spot.count for spot in spots) / sum(spot.over_cm for spot in spots) * 10
    request = sock.plan.request.model_copy(update={"gauge": sock.plan.request.gauge.model_copy(update=gauge)})
    way = next(way for way in ways_on(sock.plan, request, sock.done) if way.recommended)
    if way.plan.rounds() != sock.plan.rounds():
        sock.told = True
        sock.ripped += _stitches(sock, way.done)
        sock.plan = way.plan
        sock.knit_to(way.done)


def check_with_the_tool(sock: Sock, draw: Random) -> None:
    """Count, count more where it is asked for, and accept what is recommended."""
    if not sock.evidence:
        sock.evidence.append(assumed(sock.plan.request))
    sock.evidence.append(counted(sock, (SPOTS, SPOTS), draw))
    planned, needle = planned_gauge(sock.plan), sock.plan.request.needles.size_mm
    for _ in range(PATIENCE):
        # What a recalculation asks to be counted, without the plans for the ways on, which nobody takes yet.
        more = more_to_count(gauges_of(sock.evidence, needle), planned)
        if not more:
            break
        spots = min(more.stitch_spots, MOST_SPOTS), min(more.round_spots, MOST_SPOTS)
        sock.evidence.append(counted(sock, spots, draw))
    found = recalculate(sock.plan, sock.done, sock.evidence)
    if found.verdict == "change":
        option = found.recommended
        sock.told = True
        sock.ripped += option.stitches_ripped
        sock.plan = option.plan
        sock.knit_to(option.done)


def _stitches(sock: Sock, back_to: int) -> int:
    return sum(item.after for item in sock.plan.rounds()[back_to : sock.done])


CHECKING: dict[Policy, Callable[[Sock, Random], None]] = {
    "follow each check": check_blindly,
    "this tool": check_with_the_tool,
}


def knit(plan: Plan, truth: Truth, policy: Policy, draw: Random) -> tuple[Sock, int]:
    """One sock from the first round to the last, and the number of places where it was checked."""
    sock = Sock(plan, truth)
    checks = 0
    while policy in CHECKING and checks < MOST_CHECKS:
        place = next((place.round for place in check_places(sock.plan) if place.round > sock.done), None)
        if place is None:
            break
        sock.knit_to(place)
        CHECKING[policy](sock, draw)
        checks += 1
    sock.knit_to(sock.plan.count)
    return sock, checks


def outcome(knitter: int, group: Group, policy: Policy, sock: Sock, checks: int) -> Outcome:
    """What became of a finished sock."""
    around, length = _finished(sock)
    fit = fit_of(sock.plan.request)
    return Outcome(
        knitter=knitter,
        group=group,
        policy=policy,
        circumference_error=sum(abs(each / fit.foot_target - 1) for each in around) / len(around),
        length_error_cm=abs(length - fit.length_target),
        ripped=sock.ripped,
        told=sock.told,
        checks=checks,
    )


def _finished(sock: Sock) -> tuple[list[float], float]:
    """The true circumference of every round of the plain foot, and the true length from heel to toe, in cm."""
    around: list[float] = []
    foot: list[float] = []
    for section, span in sock.plan.spans():
        gauges = sock.knitted[span.start : span.stop]
        if section.key == "foot":
            around = [item.after / gauge[0] * 10 for item, gauge in zip(section.rounds(), gauges, strict=True)]
        if section.key in ("gusset", "foot", "toe", "heel", "heel-turn"):
            foot += [gauge[1] for gauge in gauges]
    rounds = sum(foot) / len(foot)
    planned = fit_of(sock.plan.request).fabric.rounds * 10
    length = sock.plan.sizes.foot_length_cm * planned / rounds
    if not around:
        stitches = sock.knitted[-1][0]
        around = [sock.plan.sizes.foot_stitches / stitches * 10]
    return around, length


def life_of(seed: int, number: int) -> list[Outcome]:
    """One knitter, who knits the same sock by each policy."""
    draw = Random(f"{seed}/{number}")
    group: Group = draw.choices(list(SHARES), list(SHARES.values()))[0]
    while True:
        request = asked_by(draw)
        truth = truth_behind(request, group, draw)
        try:
            plan = make_plan(request)
            socks = {policy: knit(plan, truth, policy, Random(f"{seed}/{number}/{policy}")) for policy in POLICIES}
            return [outcome(number, group, policy, *knitted) for policy, knitted in socks.items()]
        except CannotKnitError:
            # A foot or a gauge that no sock can be planned for; the knitter is sent home with the reason.
            continue
