"""Every round of a pair stays on one screen, down to the smallest phones: nothing lies under the button or below."""

from __future__ import annotations

import pytest

from .conftest import NewPhone
from .knitting import Knitting, rounds_of
from .server import Server

SCREENS = [(320, 568), (360, 640), (360, 740), (360, 800), (412, 915), (800, 360)]
"""Width and height in CSS px: small and usual phones upright, and one on its side."""

OUT_OF_SIGHT = """() => {
    const hand = document.querySelector(".hand").getBoundingClientRect();
    const parts = ["number", "words", "note"].map((id) => document.getElementById(id));
    return parts.filter((part) => {
        const { right, bottom } = part.getBoundingClientRect();
        return bottom > (right > hand.left ? hand.top : innerHeight);
    }).map((part) => part.textContent);
}"""


@pytest.mark.parametrize("sample", ["ismene", "ruddock"])
def test_no_round_is_covered_by_the_button(new_phone: NewPhone, server: Server, sample: str) -> None:
    knitting = Knitting(new_phone(server).new_page(), server.add_pair(sample)).open()
    told = rounds_of(knitting.data(), 1)
    # Rounds that read alike look alike.
    first_of_its_kind = {str((one["lines"], one["note"])): place for place, one in reversed(list(enumerate(told)))}
    for place in sorted(first_of_its_kind.values()):
        knitting.page.locator("#go-round").evaluate(
            "(field, number) => { field.value = number; field.form.requestSubmit(); }", place + 1
        )
        knitting.is_at(place)
        for width, height in SCREENS:
            knitting.page.set_viewport_size({"width": width, "height": height})
            assert knitting.page.evaluate(OUT_OF_SIGHT) == [], f"round {place + 1} on {width} x {height}"
