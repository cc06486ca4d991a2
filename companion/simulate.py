"""Simulated knitters by the thousand: how socks come out without checks, with blind ones, and with this program."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator, Sequence
from functools import partial
from multiprocessing import Pool

from .simulated_knitter import POLICIES, SHARES, Group, Outcome, life_of

FELT_ROUND, FELT_CM = 0.025, 0.4
"""A foot that is off by more than this part round it, or by so many cm along it, should have been changed (ours)."""

MOST = 0.95
"""The part of the socks that the errors in the table hold for."""

TITLES: dict[Group, str] = {"off": "gauge off by up to 12 %", "right": "gauge as planned", "drifting": "gauge drifting"}

COLUMNS = ("", "socks", "round, %", "length, mm", "ripped", "told, %", "missed, %")

NOTE = """Errors are those that 95 of 100 socks stay below: of the foot's circumference in % and of its length in mm,
against what was asked for. Ripped: stitches knitted again, a sock on average. Told: knitters told to change anything;
where the gauge is as planned each is a false alarm. Missed: of the socks that come out more than 2.5 % or 4 mm off
without a check, those whose knitters were never told."""


def outcomes(knitters: int, seed: int, told: Callable[[int], None], workers: int | None = None) -> list[Outcome]:
    """The socks of so many knitters by every policy; `told` hears how many knitters are done.

    The same seed gives the same socks, whatever the number of workers.
    """
    found: list[Outcome] = []
    for number, socks in enumerate(_lives(knitters, seed, workers or os.cpu_count() or 1), start=1):
        found += socks
        told(number)
    return found


def _lives(knitters: int, seed: int, workers: int) -> Iterator[list[Outcome]]:
    if workers == 1 or knitters == 1:
        yield from (life_of(seed, number) for number in range(knitters))
        return
    # Ctrl-C is for this process, which ends the others.
    with Pool(workers, signal.signal, (signal.SIGINT, signal.SIG_IGN)) as pool:
        yield from pool.imap(partial(life_of, seed), range(knitters), chunksize=max(1, min(20, knitters // workers)))


def below(values: Sequence[float], part: float = MOST) -> float:
    """What this part of the values does not exceed; 0 where there are none."""
    return sorted(values)[max(0, -int(-part * len(values) // 1) - 1)] if values else 0.0


def table(found: Sequence[Outcome]) -> str:
    """The outcomes as a Markdown table, a line for each group of knitters and policy."""
    lines = [f"| {' | '.join(COLUMNS)} |", f"| --- |{' ---: |' * (len(COLUMNS) - 1)}"]
    for group in SHARES:
        for policy in POLICIES:
            socks = [one for one in found if (one.group, one.policy) == (group, policy)]
            if socks:
                cells = [f"{TITLES[group]}, {policy}", f"{len(socks)}", *_figures(socks, found)]
                lines.append(f"| {' | '.join(cells)} |")
    return "\n".join([*lines, "", NOTE])


def _figures(socks: Sequence[Outcome], found: Sequence[Outcome]) -> Iterator[str]:
    yield f"{100 * below([one.circumference_error for one in socks]):.1f}"
    yield f"{10 * below([one.length_error_cm for one in socks]):.1f}"
    yield f"{sum(one.ripped for one in socks) / len(socks):.0f}"
    yield f"{100 * sum(one.told for one in socks) / len(socks):.1f}"
    needed = {one.knitter for one in found if one.policy == "never check" and _felt(one)}
    wanting = [one for one in socks if one.knitter in needed]
    yield f"{100 * sum(not one.told for one in wanting) / len(wanting):.1f}" if wanting else "–"


def _felt(one: Outcome) -> bool:
    return one.circumference_error > FELT_ROUND or one.length_error_cm > FELT_CM
