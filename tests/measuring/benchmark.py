"""How fast it is: `python tests/measuring/benchmark.py` prints a table and exits with 1 if a target is missed.

Named parts run alone, as in `python tests/measuring/benchmark.py opening tap`; `--help` has their names.

Planning, recalculating and the server's pages are timed in milliseconds of processor time, which other programs on the
computer disturb least; the worst of them fall together with a full garbage collection, so the targets are for 95 %.
The taps are real ones in a browser that is slowed down.
"""

from __future__ import annotations

import argparse
import gc
import math
import sys
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable, Iterator
from functools import partial
from itertools import product
from pathlib import Path

from playwright.sync_api import sync_playwright

from companion.planning import Check, Plan, make_plan, read_request, recalculate
from companion.planning.construction.sections.short_rows import hourglass
from companion.planning.fabric.painter import in_yarns
from companion.planning.gauge.check import Spot
from companion.planning.gauge.observations import Evidence, assumed
from companion.planning.plan.rounds import known_row
from companion.planning.recalculation.check_places import check_places
from companion.resources import SAMPLE_PROJECTS
from companion.strict_json import read_json
from tests.browser.chromium import launched
from tests.browser.server import serving
from tests.browser.timed_pages import first_view_lines, opening_lines, tap_lines
from tests.browser.timed_planner import planner_lines
from tests.measuring.measured import WIDTH, Line
from tests.measuring.page_times import MANY_CHECKS, page_lines
from tests.planning.asking import asked as request_for
from tests.planning.requests import EVERY_CONSTRUCTION

PLAN_TARGET = 20.0
RECALCULATION_TARGET = 30.0
REPEATS = 40

LOOSER = 0.94
"""Part of the planned gauge that is counted: 6 % looser, so that there is something to calculate everywhere."""


def timed(job: Callable[[], object]) -> list[float]:
    """Milliseconds of processor time that the job takes, over and over."""
    job()
    gc.collect()
    found = []
    for _ in range(REPEATS):
        start = time.process_time()
        job()
        found.append((time.process_time() - start) * 1000)
    return found


def planned(text: bytes) -> tuple[Plan, str]:
    """From the text of a plan request to the plan and the text of its document."""
    request, faults = read_request(read_json(text))
    assert request, faults
    plan = make_plan(request)
    return plan, plan.model_dump_json()


def looser(plan: Plan) -> Check:
    """A check that finds the fabric looser than planned, counted at two spots."""
    gauge = plan.request.gauge
    stitches = Spot(count=round(gauge.stitches_per_10cm * LOOSER * 2) / 2, over_cm=10)
    rounds = Spot(count=round((gauge.rounds_per_10cm or gauge.stitches_per_10cm * 1.35) * LOOSER * 2) / 2, over_cm=10)
    return Check(stitches=(stitches, stitches), rounds=(rounds, rounds))


def places(plan: Plan) -> Iterator[tuple[str, int]]:
    """Before the first round, and the middle of each section."""
    yield "nothing knitted", 0
    start = 0
    for section in plan.sections:
        count = len(section.rounds())
        yield section.title.lower(), start + count // 2
        start += count


def planning_lines() -> Iterator[Line]:
    """How long plans take, and recalculations at each place over all samples."""
    by_place: dict[str, list[float]] = defaultdict(list)
    for path in sorted(SAMPLE_PROJECTS.glob("*.json")):
        text = path.read_bytes()
        found = timed(partial(planned, text))
        yield Line(f"plan of {path.stem}, ms", found, PLAN_TARGET)
        plan, _ = planned(text)
        check = looser(plan)
        for place, done in places(plan):
            by_place[place] += timed(partial(recalculate, plan, done, [check]))
    for place, found in by_place.items():
        yield Line(f"recalculation, {place}, ms", found, RECALCULATION_TARGET)


def many_checks_lines() -> Iterator[Line]:
    """Recalculations of every construction after a hundred checks, one after the other from the cast-on on."""
    found: list[float] = []
    gc.collect()
    gc.freeze()  # as the server does
    for construction in EVERY_CONSTRUCTION:
        plan = make_plan(request_for(construction=construction))
        for place in check_places(plan):
            checks = (
                looser(plan).model_copy(update={"round": at, "sock_round": at})
                for at in range(1, place.round + 1, math.ceil(place.round / MANY_CHECKS))
            )
            evidence: list[Evidence] = [assumed(plan.request), *checks]
            start = time.process_time()
            recalculate(plan, place.round, evidence)
            found.append((time.process_time() - start) * 1000)
    yield Line(f"recalculation, {MANY_CHECKS} checks, ms", found, RECALCULATION_TARGET)


def construction_lines() -> Iterator[Line]:
    """Recalculations of every construction, plain, and stranded or in lace with a pattern that goes on down the instep.

    They are made wherever a check is asked for, each as if it were the first.
    """
    by_heel: dict[str, list[float]] = defaultdict(list)
    sorrel = read_json((SAMPLE_PROJECTS / "sorrel.json").read_bytes())
    stranded = {key: sorrel[key] for key in ("leg", "yarns", "foot_pattern")}
    lace: dict[str, object] = {
        "leg": {"length_cm": 15, "stitch_pattern": {"name": "lace rib"}},
        "foot_pattern": "instep follows the leg",
    }
    fabrics: dict[str, dict[str, object]] = {"plain": {}, "stranded": stranded, "lace": lace}
    gc.collect()
    gc.freeze()  # as the server does
    for construction, (fabric, colours) in product(EVERY_CONSTRUCTION, fabrics.items()):
        plan = make_plan(request_for(construction=construction, **colours))
        evidence: list[Evidence] = [assumed(plan.request), looser(plan)]
        for place in check_places(plan):
            for made in (known_row, in_yarns, hourglass):
                made.cache_clear()
            start = time.process_time()
            recalculate(plan, place.round, evidence)
            taken = (time.process_time() - start) * 1000
            by_heel[f"{construction['direction']}, {construction['heel']}, {fabric}"].append(taken)
    for heel, found in by_heel.items():
        yield Line(f"recalculation, {heel}, ms", found, RECALCULATION_TARGET)


PARTS: dict[str, Callable[[], Iterator[Line]]] = {
    "plan": planning_lines,
    "construction": construction_lines,
    "checks": many_checks_lines,
    "pages": partial(page_lines, timed),
}
IN_BROWSER = {"first-view": first_view_lines, "opening": opening_lines, "tap": tap_lines, "planner": planner_lines}


def asked() -> list[str]:
    """The parts that the command line names; all where it names none."""
    parser = argparse.ArgumentParser(description="Measure how fast it is.")
    parser.add_argument("part", nargs="*", help=f"one or more of: {', '.join([*PARTS, *IN_BROWSER])}")
    parts: list[str] = parser.parse_args().part
    if unknown := set(parts) - {*PARTS, *IN_BROWSER}:
        parser.error(f"there is no part {', '.join(sorted(unknown))}")
    return parts or [*PARTS, *IN_BROWSER]


def main() -> int:
    """Measure and print; returns the exit code."""
    parts = asked()
    print(f"{'':<{WIDTH}}{'median':>8}{'95 %':>8}{'worst':>8}{'target':>8}")
    missed = False

    def show(lines: Iterator[Line]) -> None:
        nonlocal missed
        for line in lines:
            print(line, flush=True)
            missed = missed or line.missed

    for name in parts:
        if name in PARTS:
            show(PARTS[name]())
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder)) as server, sync_playwright() as playwright:
        browser = launched(playwright)
        for name in parts:
            if name in IN_BROWSER:
                show(IN_BROWSER[name](browser, server))
        browser.close()
    if missed:
        print("A target is missed. Where the bare page is slow as well, the computer is too busy to tell.")
    return 1 if missed else 0


if __name__ == "__main__":
    sys.exit(main())
