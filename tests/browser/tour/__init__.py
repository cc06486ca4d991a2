"""The way to every page and to each of its states worth looking at."""

from __future__ import annotations

from .checks import CHECKS
from .designs import DESIGNS
from .desk import DESK, Way
from .fit import FITTING
from .knit import KNIT

TOUR: dict[str, Way] = {**DESK, **KNIT, **CHECKS, **FITTING, **DESIGNS}
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

PHONE_CHANGED = {"knit large", "knit nothing kept", "knit tap lost", "knit for long", "pair deleted"}
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
