"""Writes the survey's feet as the tests keep them: sex and five measures of each, sorted, compressed.

    .venv/bin/python -m tests.outside.fit.keep_survey ANSUR_II_TABLE.csv

The table is that of ANSUR II (2012 US Army survey, report NATICK/TR-15/007, approved for public release), with a
header. Lengths stay in mm, as the survey has them, and no foot is left out.
"""

from __future__ import annotations

import csv
import gzip
import sys
from pathlib import Path

KEPT = Path(__file__).with_name("surveyed_feet.csv.gz")
"""All 6,068 feet of the survey."""

COLUMNS = (
    "sex",
    "foot_length_mm",
    "ball_circumference_mm",
    "ankle_circumference_mm",
    "heel_ankle_circumference_mm",
    "calf_circumference_mm",
)


def main(table: str) -> None:
    """Keep the columns of a table. The same feet always make the same file."""
    with Path(table).open(newline="") as file:
        rows = sorted(tuple(row[name] for name in COLUMNS) for row in csv.DictReader(file))
    text = "\n".join(",".join(row) for row in [COLUMNS, *rows]) + "\n"
    KEPT.write_bytes(gzip.compress(text.encode(), mtime=0))


if __name__ == "__main__":
    main(*sys.argv[1:])
