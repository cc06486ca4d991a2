"""The pages on which a plan to go on by is chosen: what each says, and the plan that is taken there. Pure.

A phone without network shows the same pages and takes the same plans.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Literal, NamedTuple, TypeAlias

from ..checking.check_result import CheckResult
from ..checking.check_shown import shown
from ..checking.way_taken import way_taken
from ..state import PairState, SockPosition
from ..yarn.yarn_shown import yarn_shown
from .accepted import Accepted
from .leg_by_yarn import leg_taken
from .second_sock import second_sock_shown, second_sock_taken
from .tried_on import FitResult, fit_shown, fit_taken

Choice: TypeAlias = Literal["check", "fit", "second", "yarn"]
"""After a gauge check, after a try-on, how to knit sock two, and a leg for the yarn that is left."""


class ChoicePage(NamedTuple):
    """`shown` are the words of its template, and `taken` is the plan by the key of what is chosen; None for no such."""

    template: str
    shown: Callable[[PairState, SockPosition], dict[str, Any]]
    taken: Callable[[PairState, SockPosition, str], Accepted | None]


CHOICES: Mapping[Choice, ChoicePage] = {
    "check": ChoicePage(
        "pair/check_result.html",
        lambda pair, position: shown(CheckResult(pair, position), pair.unit),
        lambda pair, position, key: way_taken(CheckResult(pair, position), key),
    ),
    "fit": ChoicePage(
        "pair/fit.html",
        lambda pair, position: fit_shown(FitResult(pair, position)),
        lambda pair, position, key: fit_taken(FitResult(pair, position), key),
    ),
    "second": ChoicePage(
        "pair/second.html",
        lambda pair, _: second_sock_shown(pair),
        lambda pair, _, key: second_sock_taken(pair, key),
    ),
    "yarn": ChoicePage(
        "pair/yarn.html",
        lambda pair, _: yarn_shown(pair),
        lambda pair, _, key: leg_taken(pair, key),
    ),
}
