"""The forecast for the yarn of a pair, from its plans and all that was weighed."""

from __future__ import annotations

from typing import Any, NamedTuple

from ..logbook import MOVES, SOCKS, Entry, Sock
from ..planning.yarn_left import Ending, Progress, YarnLeft, progress_of, yarns_left
from ..weighed import weighings_of
from .open_pair import OpenPair
from .yarn_words import verdict, where


class Forecast(NamedTuple):
    """Where a pair is, and what is left of each of its yarns."""

    progress: Progress
    yarns: tuple[YarnLeft, ...]


def forecast(pair: OpenPair) -> Forecast:
    """What is left of each yarn, and what it has to reach for."""
    plans = (pair.plan(1), pair.plan(2))
    done = [min(pair.done[sock], plan.count) for sock, plan in zip(SOCKS, plans, strict=True)]
    progress = progress_of(plans, (done[0], done[1]), _on_the_needles(pair))
    return Forecast(progress, yarns_left(progress, weighings_of(pair.entries.values())))


def weighed_words(pair: OpenPair) -> dict[str, Any]:
    """What weighings tell on the knit page; the plan tells of yarn that was never weighed.

    `yarn_warnings` has a short sentence for each yarn that may not reach, `yarn_used` by its key the grams that each
    whole sock takes.
    """
    if not any(entry.kind == "weighing" for entry in pair.entries.values()):
        return {"yarn_warnings": [], "yarn_used": {}}  # and no plan has to be read for it
    progress, found = forecast(pair)
    return {
        "yarn_warnings": [
            f"Yarn{f' {yarn.key}' if len(found) > 1 else ''}: {_briefly(yarn, yarn.ends)}"
            for yarn in found
            if yarn.use.ball.weighed and yarn.ends
        ],
        "yarn_used": {
            yarn.key: [round(yarn.use.taken(course.whole(yarn.key)).grams, 1) for course in progress.courses]
            for yarn in found
            if yarn.use.weighed
        },
    }


def _briefly(yarn: YarnLeft, ends: Ending) -> str:
    """The verdict and the round, as in "it runs out, at about sock 2, foot, round 26"."""
    word = verdict(yarn).word.removesuffix(".").lower()
    return f"{word}, {f'at about {where(ends.about)}' if ends.about else f'in the worst case at {where(ends.early)}'}."


def _on_the_needles(pair: OpenPair) -> Sock:
    """The sock that was moved last; the first one at first."""
    moves = [entry for entry in pair.entries.values() if entry.kind in MOVES]
    return max(moves, key=Entry.order).sock if moves else 1
