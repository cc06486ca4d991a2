"""Days as every page writes them. The pages' scripts write them alike (static/js/days.js)."""

from __future__ import annotations

from datetime import date


def day_words(day: date) -> str:
    """A day with its weekday and its year, the same in every browser: "Sun 6 Dec 2026"."""
    return f"{day:%a} {day.day} {day:%b} {day.year}"
