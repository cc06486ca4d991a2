"""`companion capacity`, against sums done by hand."""

from __future__ import annotations

import pytest

from companion.cli import main


@pytest.mark.parametrize(
    ("knitters", "syncs", "file", "server"),
    [
        # 300,000 / 20 / 60 = 250 a second; 600,000 pairs of 3 * 21,200 + 360 * 275 = 162,600 bytes are 97.6 GB, and of
        # 3 * 5,000 + 360 * 470 = 184,200 bytes 110.5 GB; folded, of 3 * 21,200 + 360 * 43 = 79,080 bytes 47.4 GB, and
        # of 3 * 5,000 + 360 * 56 = 35,160 bytes 21.1 GB; 250 * 2.3 ms = 0.58 of a core and 250 * 3.5 ms = 0.88.
        (
            *(300_000, "250 syncs"),
            ("97.6 GB of disk a year, 47.4 GB once", "; 1 process of"),
            ("110.5 GB of disk a year, 21.1 GB once", "; 2 processes of"),
        ),
        (
            *(5_000, "4 syncs"),
            ("1.6 GB of disk a year, 790.8 MB once", "; 1 process of"),
            ("1.8 GB of disk a year, 351.6 MB once", "; 1 process of"),
        ),
    ],
)
def test_disk_and_processes_grow_with_the_knitters(
    knitters: int,
    syncs: str,
    file: tuple[str, str],
    server: tuple[str, str],
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["capacity", str(knitters)]) == 0
    told = capsys.readouterr().out
    assert syncs in told
    for name, (disk, processes) in (("one SQLite file", file), ("PostgreSQL", server)):
        [line] = [line for line in told.splitlines() if line.startswith(f"  {name}: ")]
        assert line.startswith(f"  {name}: {disk}")
        assert processes in line


@pytest.mark.parametrize("knitters", ["0", "1000000000"])
def test_a_number_that_is_none_of_knitters_is_refused_in_a_line(
    knitters: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["capacity", knitters]) == 2
    [line] = capsys.readouterr().err.splitlines()
    assert "allowed: 1 to" in line
