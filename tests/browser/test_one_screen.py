"""Every round of a pair stays on one screen of a usual phone: nothing lies under the button."""

from __future__ import annotations

import pytest

from .conftest import NewPhone
from .knitting import Knitting, rounds_of
from .server import Server

COVERED = """() => {
    const edge = document.querySelector(".hand").getBoundingClientRect().top;
    const parts = ["number", "words", "stitches", "note"].map((id) => document.getElementById(id));
    return parts.filter((part) => part.getBoundingClientRect().bottom > edge).map((part) => part.textContent);
}"""


@pytest.mark.parametrize("sample", ["ismene", "ruddock"])
def test_no_round_is_covered_by_the_button(new_phone: NewPhone, server: Server, sample: str) -> None:
    knitting = Knitting(new_phone(server, 360, 800).new_page(), server.add_pair(sample)).open()
    told = rounds_of(knitting.data(), 1)
    # Rounds that read alike look alike.
    first_of_its_kind = {str((one["lines"], one["note"])): place for place, one in reversed(list(enumerate(told)))}
    for place in sorted(first_of_its_kind.values()):
        knitting.page.locator("#go-round").evaluate(
            "(field, number) => { field.value = number; field.form.requestSubmit(); }", place + 1
        )
        knitting.is_at(place)
        assert knitting.page.evaluate(COVERED) == [], f"round {place + 1}"
