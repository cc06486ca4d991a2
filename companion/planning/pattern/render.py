"""A written pattern as plain text, which a screen reader reads in order, and as Markdown."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import groupby

from ..request.plan_request import Chart
from .markdown_words import in_markdown
from .pattern import Pattern, PatternSection
from .stitch_pattern_text import pattern_lines
from .swatch import SWATCH
from .tables import Table, as_markdown

_ELSEWHERE = "All else is knitted with the first yarn, the main colour."


def chart_lines(chart: Chart) -> Iterator[str]:
    """The rows of a chart, the first one worked first, each stitch by the letter of its yarn as it is knitted."""
    if chart.width == 1:
        yield from _stripe_lines(chart)
        return
    yield (
        f"{chart.width} stitches and {len(chart.rows)} rounds, over and over. Each row is given as it is knitted, from "
        f"its right end: a number of stitches and the letter of their yarn. {_ELSEWHERE}"
    )
    for number, row in enumerate(chart.rows, start=1):
        runs = (found[0] for found in re.finditer(r"(.)\1*", row[::-1]))
        yield f"Row {number}: {', '.join(f'{len(run)} {run[0]}' for run in runs)}"


def _stripe_lines(chart: Chart) -> Iterator[str]:
    yield f"Stripes: each round has one yarn, and after {len(chart.rows)} rounds they begin again. {_ELSEWHERE}"
    first = 1
    for yarn, rows in groupby(chart.rows):
        last = first + len(tuple(rows)) - 1
        yield f"Row {first}: {yarn}" if first == last else f"Rows {first} to {last}: {yarn}"
        first = last + 1


def _measurement_lines(table: Table) -> Iterator[str]:
    for group in table.groups:
        for name, *values in group.rows:
            same = set(values) == {values[0]}
            shown = values[0] if same else f"{values[0]} ({', '.join(values[1:])})"
            yield f"{name}: {shown}"


def _section_text(section: PatternSection) -> Iterator[str]:
    yield f"{section.title}, {section.length}"
    if section.opening:
        yield section.opening
    if section.note:
        yield f"From the leader: {section.note}"
    for line in section.lines:
        if line.note:
            yield line.note
        yield f"{line.label}: {line.text}"


def _blocks(pattern: Pattern) -> Iterator[list[str]]:
    yield [pattern.title]
    yield [f"{heading}: {words}." for heading, words in pattern.facts]
    yield ["Notes", *pattern.notes]
    yield [f"{pattern.measurements.caption}", *_measurement_lines(pattern.measurements)]
    yield ["Abbreviations", *(f"{short}: {long}" for short, long in pattern.abbreviations.items())]
    if pattern.chart:
        yield ["Chart", *chart_lines(pattern.chart)]
    if pattern.stitch_pattern:
        yield ["Stitch pattern", *pattern_lines(pattern.stitch_pattern)]
    if pattern.swatch:
        yield [SWATCH, pattern.swatch.how, *pattern.swatch.rows]
    for section in pattern.sections:
        yield [*_section_text(section)]
    yield ["To finish", *pattern.closing]


def as_text(pattern: Pattern) -> str:
    """The pattern as plain text: a heading on a line of its own, an empty line before it, and no other layout."""
    return "\n\n".join("\n".join(block) for block in _blocks(pattern)) + "\n"


def _markdown(pattern: Pattern) -> Iterator[str]:
    yield f"# {in_markdown(pattern.title)}\n"
    for heading, words in pattern.facts:
        yield f"- **{in_markdown(heading)}:** {in_markdown(words)}."
    yield "\n## Notes\n"
    yield from (f"- {in_markdown(note)}" for note in pattern.notes)
    yield f"\n## Schematic\n\n{as_markdown(pattern.measurements, '')}"
    yield "## Abbreviations\n"
    yield from (f"- **{short}:** {in_markdown(long)}" for short, long in pattern.abbreviations.items())
    if pattern.chart:
        first, *rows = chart_lines(pattern.chart)
        yield f"\n## Chart\n\n{first}\n"
        yield from (f"- {row}" for row in rows)
    if pattern.stitch_pattern:
        first, *rows = map(in_markdown, pattern_lines(pattern.stitch_pattern))
        yield f"\n## Stitch pattern\n\n{first}\n"
        yield from (f"- {row}" for row in rows)
    if pattern.swatch:
        yield f"\n## {SWATCH}\n\n{in_markdown(pattern.swatch.how)}\n"
        yield from (f"- {in_markdown(row)}" for row in pattern.swatch.rows)
    for section in pattern.sections:
        yield f"\n## {in_markdown(section.title)}, {section.length}\n"
        if section.opening:
            yield f"{in_markdown(section.opening)}\n"
        if section.note:
            yield from (f"> {line}" for line in in_markdown(f"From the leader: {section.note}").split("\n"))
            yield ""
        for line in section.lines:
            note = f"{in_markdown(line.note)} " if line.note else ""
            yield f"- {note}**{in_markdown(line.label)}:** {in_markdown(line.text)}"
    yield "\n## To finish\n"
    yield from (f"- {in_markdown(sentence)}" for sentence in pattern.closing)


def as_markdown_text(pattern: Pattern) -> str:
    """The pattern as Markdown."""
    return "\n".join([*_markdown(pattern), ""])
