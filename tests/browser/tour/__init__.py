"""The way to every page and to each of its states worth looking at."""

from __future__ import annotations

from .checks import CHECKS
from .designs import DESIGNS
from .desk import DESK
from .fit import FITTING
from .knit import KNIT
from .way import Step, Way, the_way_to

WAYS: list[Way] = [*DESK, *KNIT, *CHECKS, *FITTING, *DESIGNS]

TOUR: dict[str, Step] = {name: the_way_to(name, way) for way in WAYS for name in way}
"""By its name, how to open each on a fresh page, given the link of a pair by the sample `ismene`."""

WITH_WORKER = {
    "first page with pairs",
    "form refused",
    "plan",
    "pattern",
    "pair deleted",
    "unknown link",
    "knit",
    "logbook",
    "knit after a check",
    "knit without network",
    "page that needs a network",
}
"""A page of each kind, and the states that only the worker makes."""

PHONE_CHANGED = {"knit nothing kept", "knit tap lost", "knit for long", "pair deleted"}
"""The states that leave the browser itself another: with scripts before a page's own, another clock, or a worker that
may still ask for what is no longer there."""

REFUSING = {
    "form refused": 422,
    "check refused": 422,
    "design refused": 422,
    "graded pattern refused": 422,
    "unknown link": 404,
    "unknown link to knit": 404,
    "knit not on the server": 404,
    "page that needs a network": 503,
}
"""The states that begin with a refusal, and its status."""
