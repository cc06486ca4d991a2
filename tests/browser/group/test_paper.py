"""The size grid of a design on paper: two sheets at most, of either of the world's sizes."""

from __future__ import annotations

import io
import unicodedata

import pytest
from pypdf import PdfReader

from ..conftest import NewPhone
from ..leading import make_design
from ..server import Server

pytestmark = pytest.mark.usefixtures("without_worker")


def test_the_grid_of_the_usual_sizes_is_two_sheets_with_all_its_numbers(new_phone: NewPhone, server: Server) -> None:
    """A heel flap with its gusset has the most to say: twelve measures of eleven feet at five gauges."""
    page = new_phone(server)
    address = make_design(page, heel="flap")
    for shown in (f"{page.url.partition('?')[0]}/sizes", f"{address}/grid"):
        page.goto(shown)
        titles = page.locator("th[scope=rowgroup]").all_inner_texts()
        numbers = page.locator(".size-table td").all_inner_texts()
        for paper in ("A4", "Letter"):
            sheets = PdfReader(io.BytesIO(page.pdf(format=paper))).pages
            assert len(sheets) <= 2, (shown, paper)
            text = unicodedata.normalize("NFKC", " ".join(sheet.extract_text() for sheet in sheets))  # fl is one sign
            words = " ".join(text.split())
            assert [title for title in titles if title not in words] == []
            assert all(words.split().count(number) >= numbers.count(number) for number in set(numbers)), (shown, paper)
