"""`companion capacity`, against sums done by hand."""

from __future__ import annotations

import pytest

from companion.cli import main


@pytest.mark.parametrize(
    ("knitters", "syncs", "file", "server"),
    [
        # 200,000 / 20 / 60 = 167 a second; 400,000 pairs of 3 * 21,200 + 360 * 275 = 162,600 bytes are 65.0 GB, and of
        # 3 * 5,000 + 360 * 470 = 184,200 bytes 73.7 GB; folded, of 3 * 21,200 + 360 * 43 = 79,080 bytes 31.6 GB, and of
        # 3 * 5,000 + 360 * 56 = 35,160 bytes 14.1 GB; 167 * 3.5 ms = 0.58 of a core and 167 * 5.3 ms = 0.88.
        (
            *(200_000, "167 syncs"),
            ("65.0 GB of disk a year, 31.6 GB once", "; 1 process of"),
            ("73.7 GB of disk a year, 14.1 GB once", "; 2 processes of"),
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
