"""`companion capacity`, against sums done by hand."""

from __future__ import annotations

import pytest

from companion.cli import main


@pytest.mark.parametrize(
    ("knitters", "syncs", "file", "server"),
    [
        # 200,000 / 20 / 60 = 167 a second; 400,000 pairs of 3 * 21,200 + 360 * 275 = 162,600 bytes are 65.0 GB, and of
        # 3 * 5,000 + 360 * 470 = 184,200 bytes 73.7 GB; 167 * 3.5 ms = 0.58 of a core and 167 * 5.3 ms = 0.88.
        (200_000, "167 syncs", "65.0 GB of disk a year, 1 process", "73.7 GB of disk a year, 2 processes"),
        (5_000, "4 syncs", "1.6 GB of disk a year, 1 process", "1.8 GB of disk a year, 1 process"),
    ],
)
def test_disk_and_processes_grow_with_the_knitters(
    knitters: int, syncs: str, file: str, server: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["capacity", str(knitters)]) == 0
    told = capsys.readouterr().out
    assert syncs in told
    assert f"one SQLite file: {file}" in told
    assert f"PostgreSQL: {server}" in told


@pytest.mark.parametrize("knitters", ["0", "1000000000"])
def test_a_number_that_is_none_of_knitters_is_refused_in_a_line(
    knitters: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["capacity", knitters]) == 2
    [line] = capsys.readouterr().err.splitlines()
    assert "allowed: 1 to" in line
