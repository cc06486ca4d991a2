"""What nobody has touched for long is deleted by a command, and nothing else."""

from __future__ import annotations

import re
from contextlib import closing
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from companion.cli import main, purging
from companion.cli.data_folder import FILE_NAME
from companion.cli.purging import earlier
from companion.pair.logbook import Entry
from companion.planning import make_plan
from companion.resources import SAMPLE_PROJECTS
from companion.store import Store
from companion.web.samples import read_samples

from ..conftest import made
from ..store.test_deleting import on_disk

LEAP_DAY = datetime(2024, 2, 29, 12, 0, tzinfo=UTC)
OLD = datetime(2019, 5, 1, tzinfo=UTC)


@pytest.fixture(autouse=True)
def without_pauses(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(purging, "PAUSE", 0)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A store with 60 pairs and a design of 2019, and one of those pairs counted on just now."""
    with closing(Store(tmp_path / FILE_NAME, lambda: OLD)) as store:
        for number in range(60):
            store.add_pair(f"link {number}", f"larch {number}", "cm", "{}")
        store.designs.add("leader", "follower", '"blackthorn"')
    with closing(Store(tmp_path / FILE_NAME)) as store:
        pair = store.find_pair("link 7")
        assert pair
        store.add_entries(pair, [made(1)])
    return tmp_path


def test_logbooks_of_finished_pairs_are_folded_after_ninety_days(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Of a pair with one sock to go nothing is, and nobody sees a difference in any."""
    plan = make_plan(read_samples(SAMPLE_PROJECTS)["ismene"].request)

    def knitted(sock: int) -> list[Entry]:
        return [made(1000 * sock + done, sock=sock, round=done) for done in range(1, plan.count + 1)]

    with closing(Store(tmp_path / FILE_NAME, lambda: datetime.now(UTC) - timedelta(days=91))) as store:
        pairs = [store.add_pair(link, link, "cm", plan.model_dump_json()) for link in ("both", "one")]
        store.add_entries(pairs[0], [*knitted(1), *knitted(2)])
        store.add_entries(pairs[1], [*knitted(1), *knitted(2)[:-1]])
        before = [store.entries(pair) for pair in pairs]
    assert run(tmp_path, "--untouched-for", "2y") == 0
    counts = 2 * plan.count - 2  # all but the last of each sock
    assert f"Folded: {counts} counts of 1 finished pair" in capsys.readouterr().out
    assert run(tmp_path, "--untouched-for", "2y") == 0
    assert "Folded" not in capsys.readouterr().out
    with closing(Store(tmp_path / FILE_NAME)) as store:
        assert [store.entries(pair) for pair in pairs] == before
    assert main(["doctor", "--data", str(tmp_path)]) == 0
    assert f"{4 * plan.count - 1:,} entries in logbooks" in capsys.readouterr().out


def run(folder: Path, *options: str) -> int:
    return main(["purge", "--data", str(folder), *options])


@pytest.mark.parametrize(
    ("duration", "moment"),
    [
        ("30d", (2024, 1, 30)),  # 29 days of February and one of January (the Gregorian calendar)
        ("2y", (2022, 2, 28)),
        ("4y", (2020, 2, 29)),
        ("3m", (2023, 11, 29)),
        ("18m", (2022, 8, 29)),
        ("24m", (2022, 2, 28)),
    ],
)
def test_a_duration_goes_back_by_the_calendar(duration: str, moment: tuple[int, int, int]) -> None:
    assert earlier(LEAP_DAY, duration) == datetime(*moment, 12, 0, tzinfo=UTC)


@pytest.mark.parametrize("given", ["", "2", "y", "2 years", "-2y", "1.5y", "2Y", "²y", "٢y", "99999d", "2y\n"])
def test_what_is_no_duration_is_reported(folder: Path, capsys: pytest.CaptureFixture[str], given: str) -> None:
    before = on_disk(folder / FILE_NAME)
    assert run(folder, f"--untouched-for={given}") == 2
    assert f"--untouched-for: “{given}” given; write a number and d, m or y" in capsys.readouterr().err
    assert on_disk(folder / FILE_NAME) == before


@pytest.mark.parametrize(("given", "why"), [("0y", "30d or more"), ("29d", "30d or more"), ("9999y", "so old")])
def test_a_time_too_short_or_too_long_is_reported(
    folder: Path, capsys: pytest.CaptureFixture[str], given: str, why: str
) -> None:
    assert run(folder, "--untouched-for", given) == 2
    assert why in capsys.readouterr().err


def test_a_dry_run_says_how_many_and_how_old_and_deletes_none(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(folder, "--untouched-for", "2y", "--dry-run") == 0
    out = capsys.readouterr().out
    for count in ("59 pairs", "1 design"):
        line = rf"Untouched since before \d{{4}}-\d\d-\d\d: {count}; the oldest since 2019-05-01, the newest since 2019"
        assert re.search(line, out), out
    assert "Nothing was deleted" in out
    with closing(Store(folder / FILE_NAME)) as store:
        assert all(store.find_pair(f"link {number}") for number in range(60))
        assert store.designs.led_by("leader")


def test_only_what_is_untouched_is_deleted(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(folder, "--untouched-for", "2y") == 0
    assert "Deleted: 59 pairs and 1 design.\n" in capsys.readouterr().out
    with closing(Store(folder / FILE_NAME)) as store:
        assert [number for number in range(60) if store.find_pair(f"link {number}")] == [7]
        assert store.designs.led_by("leader") is None
    left = on_disk(folder / FILE_NAME)
    assert b"blackthorn" not in left
    assert set(re.findall(rb"larch \d+", left)) == {b"larch 7"}
    assert run(folder, "--untouched-for", "2y") == 0
    assert "Deleted: 0 pairs and 0 designs.\n" in capsys.readouterr().out


def test_a_server_beside_it_writes_between_two_batches(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with closing(Store(folder / FILE_NAME)) as server:
        written: list[int] = []

        def pause(_seconds: float) -> None:
            pair = server.find_pair("link 7")
            assert pair
            server.add_entries(pair, [made(len(written) + 2)])
            written.append(1)

        monkeypatch.setattr("time.sleep", pause)
        assert run(folder, "--untouched-for", "2y") == 0
        assert len(written) == 4, "59 pairs by 25, and a design"


def test_a_folder_without_pairs_is_reported_and_stays_empty(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(tmp_path, "--untouched-for", "2y") == 2
    assert "is not there" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
