"""The numbers of a plan that a change can move: each in words, with the sum behind it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import cached_property, partial
from typing import NamedTuple

from ..construction.constructions import built
from ..construction.planner import yarns_of_pair
from ..construction.sections.base import Part
from ..construction.sections.foot import FOOT
from ..construction.sections.leg import LEG
from ..construction.sizes import instep_of
from ..construction.verdicts import smaller_by
from ..fabric.chart import EXCHANGE, swaps
from ..fit.targets import Fabric, fit_of, nearest
from ..gauge.observations import STEP_MOVES, listed, per_10cm
from ..plan.document import Plan, Section, Sizes, YarnNeed
from ..request.plan_request import Yarn
from ..units import both_needle_sizes, both_units, both_weights, both_yardages, both_yarn_lengths, counted, in_tenths
from ..yarn.loops import loop_length
from ..yarn.requirement import IN_HAND

_IN_HAND = f"{100 * (IN_HAND - 1):.0f} % in hand"

ROUNDED_CM = 0.05
"""Half of the millimetre that lengths are rounded to: less is not a different gauge."""


class Figure(NamedTuple):
    """A number of a plan: what it is, the number with its unit, and what tells the sum behind it."""

    what: str
    value: str
    sum: Callable[[], str]


class PlanFigures:
    """The numbers of a plan at the gauge that `sizes` are given at, which need not be the one it was planned with."""

    def __init__(self, plan: Plan, sizes: Sizes, sock: int | None = None) -> None:
        """`sizes` are those that the plan's counts become; yarn is given for the pair, or for one `sock` (1 or 2)."""
        self.plan, self.sizes, self.sock, self.fit = plan, sizes, sock, fit_of(plan.request)
        self.foot_rounds = nearest(plan.sizes.foot_length_cm * self.fit.fabric.rounds)
        as_plain = self.fit.foot_as_plain(sizes.foot_stitches, instep_of(plan))
        around, along = as_plain / sizes.foot_circumference_cm, self.foot_rounds / sizes.foot_length_cm
        # Sizes are round numbers, so the gauge that they tell is not quite the one that the plan has.
        self.fabric = self.fit.fabric if sizes == plan.sizes else Fabric(around, along)
        self.leg = replace(self.fit.leg, plain=self.fabric, fabric=self._leg_fabric())

    def _leg_fabric(self) -> Fabric:
        """The fabric of the leg's pattern, which changes with that of plain knitting."""
        own, plain = self.fit.leg.fabric, self.fit.fabric
        if own == plain:
            return self.fabric
        return Fabric(
            own.stitches * self.fabric.stitches / plain.stitches, own.rounds * self.fabric.rounds / plain.rounds
        )

    @cached_property
    def figures(self) -> tuple[Figure, ...]:
        """Every number that may be another in another plan for the same sock."""
        return tuple(self._figures())

    def _figures(self) -> Iterator[Figure]:
        sizes, needle = self.sizes, self.plan.request.needles.size_mm
        yield Figure("Needle", both_needle_sizes(needle), _needle_sum)
        yield Figure("Leg stitches", f"{sizes.leg_stitches}", self.leg_stitches)
        yield Figure("Foot stitches", f"{sizes.foot_stitches}", self.foot_stitches)
        for section, part in built(self.plan):
            yield Figure(section.title, counted(section.count, _row(section)), partial(self.rounds_of, section, part))
            if part.countable and not part.tube:
                shaped = sum(item.kind in ("increase", "decrease") for item in section.rounds())
                yield Figure(
                    f"{section.title} shaping", counted(shaped, "shaping round"), partial(_shaping_sum, section)
                )
        yield Figure("Round the leg", both_units(sizes.leg_cm), self.round_the_leg)
        yield Figure("Round the foot", both_units(sizes.foot_circumference_cm), self.round_the_foot)
        yield Figure("Foot, heel to toe", both_units(sizes.foot_length_cm), self.foot_length)
        yield Figure("Way round the heel", both_units(sizes.heel_pass_cm), self.heel_pass)
        yield from self.yarns()

    @cached_property
    def yarn(self) -> tuple[YarnNeed, ...]:
        """What the pair takes of each yarn: looser stitches have more of it in them."""
        if self.fabric == self.fit.fabric:
            return self.plan.yarn
        return yarns_of_pair(self.plan.request, self.plan.rounds(), self.fabric)

    def yarns(self) -> Iterator[Figure]:
        """What the pair takes of each yarn, or one of its socks, of which the second may exchange A and B."""
        metres = {need.key: need.metres_a_sock for need in self.yarn}
        exchanged = self.sock == 2 and swaps(self.plan.request)
        for yarn, need in zip(self.plan.request.yarns, self.yarn, strict=True):
            if self.sock is None:
                sum_of_it, grams = partial(self._grams, yarn, need), need.grams_a_pair
                yield Figure(f"Yarn {need.key} for the pair", both_weights(grams, 0), sum_of_it)
            else:
                own = metres[need.key.translate(EXCHANGE) if exchanged else need.key]
                grams = own * IN_HAND / yarn.metres_per_100g * 100
                sum_of_it = partial(self._grams_of_a_sock, yarn, own, grams)
                yield Figure(f"Yarn {need.key} for the sock", both_weights(grams, 0), sum_of_it)

    def round_the_leg(self) -> str:
        """How the leg's circumference is calculated, which may be on another needle than the foot."""
        stitches, around = self.sizes.leg_stitches, self.sizes.leg_cm
        as_the_foot = abs(self.fabric.width(stitches) - around) < ROUNDED_CM
        across = self._across() if as_the_foot else f"at {per_10cm(stitches / around * 10)}"
        across += self._in_pattern
        return f"{stitches} stitches {across} are {both_units(around)}."

    def round_the_foot(self) -> str:
        """How the foot's circumference is calculated."""
        around = self.sizes.foot_circumference_cm
        if self.fit.instep.fabric != self.fit.instep.plain:
            instep = instep_of(self.plan)
            return (
                f"{self.sizes.foot_stitches - instep} stitches of plain sole {self._across()} and the {instep} of the "
                f"instep at {per_10cm(self.leg.fabric.stitches * 10)}, in pattern, are {both_units(around)}."
            )
        return f"{self.sizes.foot_stitches} stitches {self._across()} are {both_units(around)}."

    def foot_length(self) -> str:
        """How the foot's length is calculated."""
        return (
            f"{self.foot_rounds} rounds from the back of the heel to the tip of the toe {self._up()} are "
            f"{both_units(self.sizes.foot_length_cm)}."
        )

    def heel_pass(self) -> str:
        """The way round the heel: a flap goes down one side and up the other, a short-row heel down both its slopes."""
        sizes, fabric = self.sizes, self.fabric
        foot = f"The foot has {both_units(self.fit.body.heel_diagonal)} there."
        if any(part.widest_before for _, part in built(self.plan)):
            return (
                f"The round before the heel turn, {self._across()} is {both_units(sizes.heel_pass_cm)}, "
                f"and the foot's heel goes through it. {foot}"
            )
        flap = next((section for section, part in built(self.plan) if part.flap), None)
        if flap is None:
            return (
                f"Across the instep and the middle of the heel and down both of its slopes, at "
                f"{per_10cm(fabric.stitches * 10)} stitches and {per_10cm(fabric.rounds * 10)} rounds, it is "
                f"{both_units(sizes.heel_pass_cm)} round the heel. {foot}"
            )
        rows = fabric.height(2 * flap.count)
        across = sizes.heel_pass_cm - rows
        return (
            f"The {flap.count} rows of the flap, once down and once up, are {both_units(rows)}; the "
            f"{self._across_the_instep(across)} of instep and turned heel are {both_units(across)}: "
            f"together {both_units(sizes.heel_pass_cm)} round the heel. {foot}"
        )

    def _across_the_instep(self, cm: float) -> str:
        """The stitches of a way across the instep; in a pattern of its own that is as many plain ones."""
        plain = "" if self.fit.instep.fabric == self.fit.instep.plain else ", counted as plain ones,"
        return f"{nearest(cm * self.fabric.stitches)} stitches{plain}"

    @property
    def _in_pattern(self) -> str:
        return "" if self.fit.leg.fabric == self.fit.fabric else ", in pattern,"

    def leg_asked(self) -> str:
        """What was asked for round the leg."""
        return self._smaller("the leg", self.fit.leg_target)

    def foot_asked(self) -> str:
        """What was asked for round the foot."""
        return self._smaller("the ball of the foot", self.fit.foot_target)

    def length_asked(self) -> str:
        """What was asked for as the foot's length."""
        ease = self.plan.request.ease.length_cm
        off = f"{'less' if ease >= 0 else 'and'} {both_units(abs(ease))}"
        return f"Asked for: {both_units(self.fit.body.length)} of foot {off} are {both_units(self.fit.length_target)}."

    def leg_stitches(self) -> str:
        """How many stitches the leg asks for, and how many it has."""
        return f"{self.leg_asked()} {self._leg_stitches()}"

    def foot_stitches(self) -> str:
        """How many stitches the foot asks for, and how many it has."""
        return f"{self.foot_asked()} {self._stitches(self.fit.foot_target, self.sizes.foot_stitches)}"

    def rounds_of(self, section: Section, part: Part) -> str:
        """How high a section's rounds are, and what asks for them."""
        rounds = section.rounds()
        if not rounds:
            return "Nothing of it is knitted."
        plain = nearest(section.length_cm * self.fit.rounds_of(part.of))
        first, last = rounds[0].before, rounds[-1].after
        stitches = f"on {last} stitches" if first == last else f"from {first or 'no'} stitches to {last or 'none'}"
        as_high = "" if plain == len(rounds) else f", as high as {plain} rounds of plain fabric"
        per_cm = self._rounds_in(part)
        knitted = counted(len(rounds), _row(section))
        return (
            f"{self._rounds_asked(section, part)}{knitted} {stitches}{as_high}: {_up(per_cm)} "
            f"that is {both_units(plain / per_cm)}."
        )

    def _rounds_in(self, part: Part) -> float:
        """Rounds in a cm of a part."""
        return self.leg.rounds if part is LEG else self.fabric.rounds

    def _rounds_asked(self, section: Section, part: Part) -> str:
        if part is FOOT:
            asked = self.fit.length_target
            others = self.foot_rounds - section.count
            return (
                f"{self.length_asked()} {self._up().capitalize()} these are "
                f"{in_tenths(asked * self.fabric.rounds)} rounds; the other parts of the foot take {others} of the "
                f"{self.foot_rounds} that it gets. "
            )
        cm = part.asked(self.plan.request)
        if cm is None:
            return ""
        per_cm = self._rounds_in(part)
        return f"{both_units(cm)} asked for {_up(per_cm)} are {in_tenths(cm * per_cm)} rounds. "

    def _grams(self, yarn: Yarn, need: YarnNeed) -> str:
        return (
            f"{self._metres(yarn, need.metres_a_sock)} for sock 1; both socks with {_IN_HAND}, at "
            f"{both_yardages(yarn.metres_per_100g)}, are {both_weights(need.grams_a_pair, 0)}."
        )

    def _grams_of_a_sock(self, yarn: Yarn, metres: float, grams: float) -> str:
        return (
            f"{self._metres(yarn, metres)}; with {_IN_HAND}, at {both_yardages(yarn.metres_per_100g)}, these are "
            f"{both_weights(grams, 0)}."
        )

    def _metres(self, yarn: Yarn, metres: float) -> str:
        name = f"Yarn {yarn.key}" + (f", {yarn.name}" if yarn.name else "")
        by_kind = "those of the pattern as they are worked, " if self.plan.request.leg.stitch_pattern else ""
        return (
            f"{name}: a {'knit ' if by_kind else ''}stitch takes about {both_units(loop_length(self.fabric))} of it, "
            f"{by_kind}cast-on, tails and floats more, together {both_yarn_lengths(metres)}"
        )

    def _smaller(self, where: str, target: float) -> str:
        percent = self.plan.request.ease.circumference_percent
        body = target / (1 - percent / 100)
        return f"Asked for: {both_units(body)} round {where}, {smaller_by(percent)}, are {both_units(target)}."

    def _leg_stitches(self) -> str:
        asked, count = in_tenths(self.leg.stitches_for(self.fit.leg_target)), self.sizes.leg_stitches
        across = f"at {per_10cm(self.leg.fabric.stitches * 10)}{self._in_pattern}"
        return f"{across.capitalize()} these are {asked} stitches; it has {count}."

    def _stitches(self, target: float, count: int) -> str:
        stitches = in_tenths(target * self.fabric.stitches)
        return f"{self._across().capitalize()} these are {stitches} stitches; it has {count}."

    def _across(self) -> str:
        return f"at {per_10cm(self.fabric.stitches * 10)}"

    def _up(self) -> str:
        return _up(self.fabric.rounds)


def _up(per_cm: float) -> str:
    return f"at {per_10cm(per_cm * 10)}"


def _row(section: Section) -> str:
    return "row" if section.flat else "round"


def _needle_sum() -> str:
    two = (1 + STEP_MOVES) ** 2
    return (
        f"One needle size usually moves the gauge by about {100 * STEP_MOVES:.0f} % (common practice): two smaller "
        f"make it about {100 * (two - 1):.0f} % tighter, two larger about {100 * (1 - 1 / two):.0f} % looser."
    )


def _shaping_sum(section: Section) -> str:
    shaped = [item for item in section.rounds() if item.kind in ("increase", "decrease")]
    if not shaped:
        return "No stitch comes or goes there."
    steps = Counter(abs(item.after - item.before) for item in shaped)
    each = [f"{times} {'rounds' if times > 1 else 'round'} of {step} stitches" for step, times in sorted(steps.items())]
    total = sum(step * times for step, times in steps.items())
    return f"{listed(each)} {'is' if len(shaped) == 1 else 'are'} {total} stitches."
