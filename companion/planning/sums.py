"""The sum behind each number of a recalculation, in plain words: what was counted, times what, is what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from .document import Plan, Sizes
from .evidence import Gauges
from .fit import fit_of, nearest
from .observed import per_10cm
from .options import Option, Range, Ranges
from .request import PlanRequest
from .units import both_units
from .yarn import IN_HAND, loop_length


@dataclass(frozen=True)
class SizeSums:
    """How the sizes of a finished sock come about, a sentence or two for each."""

    leg: str
    foot: str
    length: str
    heel: str


def size_sums(plan: Plan, sizes: Sizes, ranges: Ranges, gauges: Gauges) -> SizeSums:
    """The sizes of a plan, which may be those on another needle than the estimate is for."""
    stitches = sizes.foot_stitches / sizes.foot_circumference_cm * 10
    rounds = gauges.rounds.per_10cm * stitches / gauges.stitches.per_10cm
    on_foot = nearest(sizes.foot_length_cm * rounds / 10)
    from_heel_to_tip = "rounds from the back of the heel to the tip of the toe"
    return SizeSums(
        leg=f"{sizes.leg_stitches} stitches {_become(stitches, sizes.leg_cm, ranges.leg_cm)}",
        foot=f"{sizes.foot_stitches} stitches "
        f"{_become(stitches, sizes.foot_circumference_cm, ranges.foot_circumference_cm)}",
        length=f"{on_foot} {from_heel_to_tip} {_become(rounds, sizes.foot_length_cm, ranges.foot_length_cm)}",
        heel=_heel(plan, sizes, stitches, rounds),
    )


def _become(gauge: float, size: float, within: Range) -> str:
    return (
        f"at {per_10cm(gauge)} are {both_units(size)}. As the gauge may be a little tighter or looser, it will be "
        f"between {both_units(within.low)} and {both_units(within.high)}."
    )


def _heel(plan: Plan, sizes: Sizes, stitches: float, rounds: float) -> str:
    """The way round the heel: a flap goes down one side and up the other, a short-row heel down both its slopes."""
    flap = next((section for section in plan.sections if section.key == "heel-flap"), None)
    if flap is None:
        return (
            f"Across the instep and the middle of the heel and down both of its slopes, at {per_10cm(stitches)} "
            f"stitches and {per_10cm(rounds)} rounds, it is {both_units(sizes.heel_pass_cm)} round the heel."
        )
    rows = 2 * len(flap.rounds()) / rounds * 10
    across = sizes.heel_pass_cm - rows
    return (
        f"The {len(flap.rounds())} rows of the flap, once down and once up, are {both_units(rows)}; the "
        f"{nearest(across * stitches / 10)} stitches of instep and turned heel are {both_units(across)}: together "
        f"{both_units(sizes.heel_pass_cm)} round the heel."
    )


def ripped_sum(plan: Plan, done: int, option: Option) -> str:
    """How many stitches are knitted again, and what that takes."""
    ripped = plan.rounds()[option.done : done]
    widest, narrowest = max(item.after for item in ripped), min(item.after for item in ripped)
    each = f"{widest}" if widest == narrowest else f"{narrowest} to {widest}"
    told = (
        f"From round {done} back to round {option.done} are {option.rounds_ripped} rounds of {each} stitches: "
        f"{option.stitches_ripped} stitches."
    )
    if option.seconds is None:
        return f"{told} Your pace is known once a few rounds were counted one after the other."
    pace = option.seconds / option.stitches_ripped
    return (
        f"{told} At your pace of late, {60 / pace:.0f} stitches a minute, that is "
        f"{option.stitches_ripped} times {pace:.1f} seconds."
    )


def yarn_sums(option: Option) -> Iterator[str]:
    """Where the grams of each yarn come from."""
    request = option.plan.request
    loop = loop_length(fit_of(request).fabric)
    for yarn, need in zip(request.yarns, option.yarn, strict=True):
        name = f"Yarn {yarn.key}" + (f", {yarn.name}" if yarn.name else "")
        yield (
            f"{name}: a stitch takes about {10 * loop:.0f} mm, cast-on, tails and floats more, together "
            f"{need.metres_a_sock:.0f} m for sock 1; both socks with {100 * (IN_HAND - 1):.0f} % in hand, at "
            f"{yarn.metres_per_100g:g} m in 100 g, are {need.grams_a_pair:.0f} g."
        )


def change_sums(before: Plan, option: Option) -> Iterator[str]:
    """How the counts that change come about."""
    request, sizes = option.plan.request, option.sizes
    fit = fit_of(request)
    asked = fit.foot_target * fit.fabric.stitches
    if sizes.foot_stitches != before.sizes.foot_stitches:
        yield (
            f"Foot stitches: {both_units(fit.foot_target)} asked for, at {per_10cm(fit.fabric.stitches * 10)}, are "
            f"{asked:.1f}; {sizes.foot_stitches} suit what is knitted and the heel."
        )
    if sizes.leg_stitches != before.sizes.leg_stitches:
        asked = fit.leg_target * fit.fabric.stitches
        yield (
            f"Leg stitches: {both_units(fit.leg_target)} asked for, at {per_10cm(fit.fabric.stitches * 10)}, are "
            f"{asked:.1f}; {sizes.leg_stitches} suit the ribbing and what is knitted."
        )
    yield from _section_sums(before, option.plan, request)


def _section_sums(before: Plan, after: Plan, request: PlanRequest) -> Iterator[str]:
    old = {section.key: section.rounds() for section in before.sections}
    gauge = fit_of(request).fabric.rounds * 10
    for section in after.sections:
        rounds = section.rounds()
        if old.get(section.key) == rounds or not rounds:
            continue
        first, last = rounds[0].before, rounds[-1].after
        shaping = sum(item.kind in ("increase", "decrease") for item in rounds)
        stitches = f"on {last} stitches" if first == last else f"from {first} stitches to {last}"
        shaped = f" in {shaping} shaping rounds" if shaping else ""
        yield (
            f"{section.title}: {stitches}{shaped}; its {len(rounds)} {'rows' if section.flat else 'rounds'} are "
            f"{both_units(section.length_cm)} high at {per_10cm(gauge)}."
        )
