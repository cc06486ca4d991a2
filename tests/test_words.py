"""Words as every page writes them."""

from __future__ import annotations

from datetime import date

from companion.words import day_words, unbroken


def test_a_length_or_weight_in_a_sentence_stays_on_one_line() -> None:
    assert unbroken("8.9 g of 420 m on 2.5 mm in 3 goes") == "8.9\u00a0g of 420\u00a0m on 2.5\u00a0mm in 3 goes"
    assert unbroken("31.1 cm (12 1/4 in) of sock in one") == "31.1\u00a0cm (12\u00a01/4\u00a0in) of sock in one"


def test_a_day_is_written_out() -> None:
    """A check of the calendar: 6 December 2026 is a Sunday (ISO 8601 week 49, day 7)."""
    assert day_words(date(2026, 12, 6)) == "Sun 6 Dec 2026"
