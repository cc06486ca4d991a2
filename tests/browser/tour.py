"""The way to every page and to each of its states worth looking at."""

from __future__ import annotations

from .tour_checks import CHECKS
from .tour_designs import DESIGNS
from .tour_desk import DESK, Way
from .tour_fit import FITTING
from .tour_knit import KNIT

TOUR: dict[str, Way] = {**DESK, **KNIT, **CHECKS, **FITTING, **DESIGNS}
"""By its name, how to open each on a fresh page, given the link of a pair by the sample `ismene`."""

REFUSING = {
    "form refused": 422,
    "check refused": 422,
    "design refused": 422,
    "graded pattern refused": 422,
    "unknown link": 404,
    "page that needs a network": 503,
}
"""The states that begin with a refusal, and its status."""
