"""A table of words and numbers, as HTML, as CSV and as Markdown; all three say the same."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from .markdown_words import in_markdown


@dataclass(frozen=True)
class Group:
    """Rows about one thing. The first cell of each row heads it."""

    title: str
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True)
class Table:
    """Groups of rows under the same columns; `notes` are sentences to be read with it."""

    caption: str
    columns: tuple[str, ...]
    groups: tuple[Group, ...]
    notes: tuple[str, ...] = ()


def _lines(table: Table, what: str) -> Iterator[tuple[str, ...]]:
    """The table without groups: each row begins with its group's title, in a column headed `what`."""
    yield (what, *table.columns)
    for group in table.groups:
        for row in group.rows:
            yield (group.title, *row)


def as_csv(table: Table, what: str = "what") -> str:
    """The table after RFC 4180, with a heading line and lines that end in CR LF. It has no caption and no notes."""
    text = io.StringIO()
    csv.writer(text).writerows(_lines(table, what))
    return text.getvalue()


def _markdown_row(cells: Sequence[str]) -> str:
    return f"| {' | '.join(map(in_markdown, cells))} |"


def as_markdown(table: Table, what: str = "what") -> str:
    """The table as Markdown with pipes, the caption above it and the notes below it."""
    head, *rows = _lines(table, what)
    text = [f"**{in_markdown(table.caption)}**", "", _markdown_row(head), f"|{' --- |' * len(head)}"]
    text += [_markdown_row(row) for row in rows]
    for note in table.notes:
        text += ["", in_markdown(note)]
    return "\n".join([*text, ""])


def as_html(table: Table) -> str:
    """The table as an HTML element with a caption, a heading for each column, group and row, and notes below it."""
    columns = "".join(f'<th scope="col">{escape(column)}</th>' for column in table.columns)
    parts = ['<table class="size-table">', f"<caption>{escape(table.caption)}</caption>"]
    parts.append(f"<thead><tr>{columns}</tr></thead>")
    for group in table.groups:
        parts.append("<tbody>")
        parts.append(f'<tr><th scope="rowgroup" colspan="{len(table.columns)}">{escape(group.title)}</th></tr>')
        for head, *cells in group.rows:
            inside = "".join(f"<td>{escape(cell)}</td>" for cell in cells)
            parts.append(f'<tr><th scope="row">{escape(head)}</th>{inside}</tr>')
        parts.append("</tbody>")
    parts.append("</table>")
    parts += [f"<p>{escape(note)}</p>" for note in table.notes]
    return "\n".join([*parts, ""])
