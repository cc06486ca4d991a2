"""The forecast for the yarn of a pair, from its plans and all that was weighed. Pure."""

from __future__ import annotations

from typing import Any, NamedTuple

from ...planning.yarn.forecast import Progress, YarnEnd, YarnLeft, progress_of, yarns_left
from ..logbook import Entry, Sock
from ..state import PairState
from .weighings import weighings_of
from .words import verdict, where


class Forecast(NamedTuple):
    """Where a pair is, and what is left of each of its yarns."""

    progress: Progress
    yarns: tuple[YarnLeft, ...]


def forecast(pair: PairState) -> Forecast:
    """What is left of each yarn, and what it has to reach for."""
    one, two = pair.position(1), pair.position(2)
    progress = progress_of((one.plan, two.plan), (one.done, two.done), _on_the_needles(pair))
    return Forecast(progress, yarns_left(progress, weighings_of(pair.entries)))


def weighed_words(pair: PairState) -> dict[str, Any]:
    """What weighings tell on the knit page; the plan says it of yarn that was never weighed.

    `yarn_warnings` has a short sentence for each yarn that may not reach, or whose last weight is doubted, `yarn_used`
    by its key the grams that each whole sock takes.
    """
    if not any(entry.kind == "weighing" for entry in pair.entries):
        return {"yarn_warnings": [], "yarn_used": {}}  # and no plan has to be read for it
    progress, found = forecast(pair)
    return {
        "yarn_warnings": [
            f"Yarn{f' {yarn.key}' if len(found) > 1 else ''}: {said}"
            for yarn in found
            if (said := yarn.use.asks or (_briefly(yarn, yarn.ends) if yarn.use.ball.weighed and yarn.ends else ""))
        ],
        "yarn_used": {
            yarn.key: [round(yarn.use.taken(course.whole(yarn.key)).grams, 1) for course in progress.courses]
            for yarn in found
            if yarn.use.weighed
        },
    }


def _briefly(yarn: YarnLeft, ends: YarnEnd) -> str:
    """The verdict and the round, as in "it runs out, at about sock 2, foot, round 26"."""
    word = verdict(yarn).word.removesuffix(".").lower()
    return f"{word}, {f'at about {where(ends.about)}' if ends.about else f'in the worst case at {where(ends.early)}'}."


def _on_the_needles(pair: PairState) -> Sock:
    """The sock that was moved last; the first one at first."""
    moves = [moves[-1] for moves in pair.ends.values() if moves]
    return max(moves, key=Entry.order).sock if moves else 1
