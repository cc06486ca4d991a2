"""A table says the same as HTML, as CSV and as Markdown, whatever stands in its cells."""

from __future__ import annotations

import csv
import io
import re
from html.parser import HTMLParser

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.planning.pattern.tables import Group, Table, as_csv, as_html, as_markdown

Rows = list[list[str]]

WORDS = st.text(st.characters(codec="utf-8", exclude_categories=("C", "Z")), min_size=1, max_size=12)


@st.composite
def tables(draw: st.DrawFn) -> Table:
    width = draw(st.integers(2, 5))
    row = st.lists(WORDS, min_size=width, max_size=width).map(tuple)
    group = st.builds(Group, WORDS, st.lists(row, min_size=1, max_size=4).map(tuple))
    return Table(draw(WORDS), draw(row), tuple(draw(st.lists(group, min_size=1, max_size=3))), (draw(WORDS),))


def rows_of_csv(text: str) -> Rows:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


def rows_of_markdown(text: str) -> Rows:
    """The pipe table in a text, without what nobody sees: a pipe ends a cell unless a backslash is before it."""
    lines = [line for line in text.replace("\u2060", "").split("\n") if line.startswith("| ")]
    rows = [re.findall(r"(?:^\|| ) ?((?:[^|\\]|\\.)*?) \|", line) for line in lines]
    assert set(rows[1]) == {"---"}
    return [[re.sub(r"\\(.)", r"\1", cell) for cell in row] for row in (rows[0], *rows[2:])]


class HtmlTable(HTMLParser):
    """The cells of an HTML table with what they head; a row of a group begins with the group's heading."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: Rows = []
        self.caption = ""
        self.scopes: set[str | None] = set()
        self._group = "what"
        self._cells: list[tuple[str | None, str]] = []
        self._inside = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("th", "td", "caption"):
            self._inside = tag
            self._cells.append((dict(attrs).get("scope"), ""))

    def handle_data(self, data: str) -> None:
        if self._inside:
            scope, text = self._cells[-1]
            self._cells[-1] = (scope, text + data)

    def handle_endtag(self, tag: str) -> None:
        if tag == self._inside:
            self._inside = ""
        if tag == "caption":
            self.caption = self._cells.pop()[1]
        if tag == "tr":
            scopes = [scope for scope, _ in self._cells]
            self.scopes |= set(scopes)
            texts = [text for _, text in self._cells]
            if scopes == ["rowgroup"]:
                self._group = texts[0]
            else:
                self.rows.append([self._group, *texts])
            self._cells = []


def read_html(text: str) -> HtmlTable:
    table = HtmlTable()
    table.feed(text)
    table.close()
    return table


@given(tables())
def test_the_three_forms_agree(table: Table) -> None:
    wanted = [["what", *table.columns], *([group.title, *row] for group in table.groups for row in group.rows)]
    assert rows_of_csv(as_csv(table)) == wanted
    assert rows_of_markdown(as_markdown(table)) == wanted
    html = read_html(as_html(table))
    assert html.rows == wanted
    assert html.caption == table.caption


def test_every_heading_of_the_html_says_what_it_heads() -> None:
    # WCAG 2.2 technique H63: scope associates header cells with data cells; H39: a caption names the table.
    table = Table("Feet", ("Round", "28"), (Group("Cast on", (("20", "52"),)),))
    html = read_html(as_html(table))
    assert html.scopes == {"col", "rowgroup", "row", None}
    assert html.caption == "Feet"


def test_csv_ends_its_lines_as_its_standard_says() -> None:
    # RFC 4180, section 2: records end in CRLF; a field with a comma or a quotation mark is quoted, the mark doubled.
    table = Table("Feet", ("Round, cm", "28"), (Group('"Cast" on', (("20", "52"),)),))
    assert as_csv(table) == 'what,"Round, cm",28\r\n"""Cast"" on",20,52\r\n'


@pytest.mark.parametrize("form", [as_html, as_markdown])
def test_notes_stand_below_the_table(form: object) -> None:
    assert callable(form)
    text = form(Table("Feet", ("Round", "28"), (Group("Cast on", (("20", "52"),)),), ("Measure it.",)))
    assert text.index("52") < text.index("Measure it.")
