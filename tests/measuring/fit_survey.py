"""How socks come out on all measured feet of a survey, beside what is wanted of them; ends with 1 where one misses.

    .venv/bin/python -m tests.measuring.fit_survey                    # all 6,068 feet at 32 stitches and 44 rounds
    .venv/bin/python -m tests.measuring.fit_survey --every 20 --gauge 28x38

The feet are those of ANSUR II (see tests/outside/fit/keep_survey.py), with everything measured that a short sock needs,
every heel and both directions. With `--leg calf` a leg of 30 cm is planned for the calf, with `--leg cuff` one of 15 cm
for three quarters of it. What is wanted of counts is for a gauge of 8 stitches an inch, and follows the gauge. A part
of the feet may have a few more outside it: at 28 stitches 4.2 % of all men, and 5.3 % of every eighth, have fewer than
the 60 that are wanted of all but 5 %.
"""

from __future__ import annotations

import argparse
import csv
import gzip
import math
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product
from typing import Any

from companion.planning import Plan, make_plan, read_request
from companion.planning.fit.targets import nearest_multiple
from companion.planning.plan.document import Round, Section
from companion.planning.plan.rounds import zone_stitches
from tests.outside.fit.keep_survey import KEPT
from tests.planning.requests import DIRECTIONS, HEELS

COUNTS = {"F": (60, 72), "M": (68, 80)}
"""Leg stitches of published tables for women and men at 8 stitches an inch, the 5th to the 95th percentile of feet."""

TWO_DEVIATIONS = 200 * math.sqrt(0.05 * 0.95)
"""Percent by which the twentieth of so many feet may be off, times the root of their number (binomial)."""

USUAL_GAUGE = 32
SHAPED = {"toe", "heel", "heel-flap", "heel-turn", "gusset", "gusset-increases"}
"""Sections that shape a toe or a heel, where a round may change as it must."""

LEGS = {"": (None, 15.0), "cuff": (0.75, 15.0), "calf": (1.0, 30.0)}
"""For each kind of leg the part of the calf that is measured, and the length of the leg in cm."""


def feet(every: int) -> list[dict[str, str]]:
    """Every so many feet of the survey."""
    with gzip.open(KEPT, "rt", newline="") as file:
        return list(csv.DictReader(file))[::every]


def measures(row: dict[str, str], calf: float | None) -> dict[str, float]:
    """What a request says of a foot, in cm."""
    cm = {name: float(value) / 10 for name, value in row.items() if name != "sex"}
    foot = {
        "ball_circumference_cm": cm["ball_circumference_mm"],
        "length_cm": cm["foot_length_mm"],
        "ankle_circumference_cm": cm["ankle_circumference_mm"],
        "heel_diagonal_cm": cm["heel_ankle_circumference_mm"],
    }
    if calf:
        foot["leg_circumference_cm"] = round(calf * cm["calf_circumference_mm"], 1)
    return foot


def at(values: Sequence[float], percent: float) -> float:
    """A percentile."""
    return sorted(values)[min(len(values) - 1, int(percent * len(values) / 100))]


def uneven(item: Round) -> int:
    """By how many stitches sole and instep differ after a round."""
    return abs(zone_stitches(item, "sole") - zone_stitches(item, "instep"))


def largest_change(sections: Sequence[Section]) -> float:
    """The largest part of its stitches that a round wins or loses outside heel and toe."""
    rounds = [item for section in sections if section.key not in SHAPED for item in section.rounds()]
    return max(abs(item.after - item.before) / item.before for item in rounds if item.before and item.after)


@dataclass
class Found:
    """What the socks of one construction are like."""

    legs: dict[str, list[float]] = field(default_factory=lambda: defaultdict(list))
    gusset_end: list[float] = field(default_factory=list)
    before_the_toe: list[float] = field(default_factory=list)
    flap: list[float] = field(default_factory=list)
    change: list[float] = field(default_factory=list)
    heel: Counter[str] = field(default_factory=Counter)

    def add(self, plan: Plan, sex: str) -> None:
        """Take one sock into account."""
        parts = {section.key: section.rounds() for section in plan.sections}
        self.legs[sex].append(plan.sizes.leg_stitches)
        foot = parts["foot"]
        down = plan.request.construction.direction == "cuff-down"
        self.gusset_end.append(uneven(parts["gusset"][-1] if down and "gusset" in parts else foot[0 if down else -1]))
        self.before_the_toe.append(uneven(foot[-1]))
        if "heel-flap" in parts:
            self.flap.append(2 * len(parts["heel-flap"]) / plan.sizes.leg_stitches)
        self.change.append(largest_change(plan.sections))
        self.heel[plan.fit[0].verdict] += 1

    @property
    def will_not_go_on(self) -> float:
        """Percent of the socks that will not go over the heel."""
        return 100 * self.heel["will not go on"] / self.heel.total()

    def missed(self, stitches: float, *, all_feet: bool) -> Iterator[str]:
        """What is not as it is wanted."""
        for sex, limits in COUNTS.items():
            tail = 5.0 if all_feet else 5 + TWO_DEVIATIONS / math.sqrt(len(self.legs[sex]))
            found = at(self.legs[sex], tail), at(self.legs[sex], 100 - tail)
            least, most = (nearest_multiple(count * stitches / USUAL_GAUGE, 4) for count in limits)
            if found[0] < least or found[1] > most:
                yield f"legs of {sex} {found[0]:.0f} to {found[1]:.0f}, wanted {least:.0f} to {most:.0f}"
        if at(self.gusset_end, 99) > 4 or at(self.before_the_toe, 99) > 4:
            yield "sole and instep differ by more than 4"
        if self.flap and not (0.95 <= at(self.flap, 50) <= 1.1 and at(self.flap, 95) < 1.3):
            yield "flaps"
        if max(self.change) > 0.1:
            yield "a round changes more than a tenth"
        if self.will_not_go_on >= 8:
            yield "too many will not go on"

    def __str__(self) -> str:
        legs = ", ".join(f"{sex} " + "/".join(f"{at(self.legs[sex], p):.0f}" for p in (5, 50, 95)) for sex in COUNTS)
        flap = f"{at(self.flap, 50):.2f} / {at(self.flap, 95):.2f}" if self.flap else "–"
        return (
            f"{legs} | {at(self.gusset_end, 99):.0f}, {at(self.before_the_toe, 99):.0f} | {flap} | "
            f"{100 * max(self.change):.1f} % | {self.will_not_go_on:.1f} %"
        )


def survey(gauge: tuple[float, float], every: int, leg: str) -> dict[tuple[str, str], Found]:
    """The socks of all constructions on these feet."""
    calf, length = LEGS[leg]
    found: dict[tuple[str, str], Found] = defaultdict(Found)
    for row, direction, heel in product(feet(every), DIRECTIONS, HEELS):
        data: dict[str, Any] = {
            "foot": measures(row, calf),
            "gauge": {"stitches_per_10cm": gauge[0], "rounds_per_10cm": gauge[1]},
            "construction": {"direction": direction, "heel": heel},
            "leg": {"length_cm": length},
        }
        request, faults = read_request(data)
        assert request, faults
        found[direction, heel].add(make_plan(request), row["sex"])
    return found


def main() -> int:
    """Print a line for each construction; 1 where something is not as wanted."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--gauge", default="32x44", help="stitches x rounds over 10 cm")
    parser.add_argument("--every", type=int, default=1, help="take every so many feet")
    parser.add_argument("--leg", choices=list(LEGS), default="", help="measure the leg too")
    asked = parser.parse_args()
    stitches, rounds = map(float, asked.gauge.split("x"))
    found = survey((stitches, rounds), asked.every, asked.leg)
    print("construction | leg 5/50/95 % | sole - instep 99 %: gusset's end, toe | flap 50 / 95 % | change | not on")
    missed = []
    for (direction, heel), socks in found.items():
        print(f"{direction}, {heel} | {socks}", flush=True)
        missed += [f"{direction}, {heel}: {what}" for what in socks.missed(stitches, all_feet=asked.every == 1)]
    for heel in HEELS:
        down, up = (found[direction, heel].will_not_go_on for direction in DIRECTIONS)
        if abs(down - up) > 2:
            missed.append(f"{heel}: {down:.1f} % from the cuff, {up:.1f} % from the toe will not go on")
    print(*missed, sep="\n")
    return bool(missed)


if __name__ == "__main__":
    sys.exit(main())
