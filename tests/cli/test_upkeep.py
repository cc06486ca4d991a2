"""`companion backup`, `restore` and `doctor`: what they say, and the codes they end with."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from companion.cli import main
from companion.cli.data_folder import FILE_NAME
from companion.store import Pair, Store
from companion.store.tables import MIGRATIONS

from ..conftest import made
from ..storing import DAMAGE, LINK, add_pair, damaged, overwritten
from .serving import serving

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A data folder that is closed to others, as a server makes it."""
    made_here = tmp_path / "data"
    made_here.mkdir(mode=0o700)
    return made_here


@pytest.fixture
def kept(folder: Path) -> Pair:
    """What is kept in it: a pair with two entries."""
    store = Store(folder / FILE_NAME)
    pair = add_pair(store)
    store.add_entries(pair, [made(1), made(2)])
    store.close()
    return pair


@pytest.fixture
def run(folder: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs a command on the folder; gives its code, what it said, and what it complained of."""

    def ran(*command: str) -> tuple[int, str, str]:
        code = main([*command, "--data", str(folder)])
        return code, *capsys.readouterr()

    return ran


@pytest.mark.usefixtures("kept")
def test_a_backup_is_made_and_brought_back(run: Run, tmp_path: Path, folder: Path) -> None:
    backup = str(tmp_path / "backup.sqlite3")
    assert run("backup", backup) == (0, f"{backup} is a whole backup, with 1 pair and 0 designs.\n", "")
    code, out, err = run("restore", backup)
    assert (code, err) == (0, "")
    first, second = out.splitlines()
    assert first.startswith(f"{backup} is in place, with 1 pair and 0 designs. Start the server")
    assert str(folder / "tapeline-until-") in second


@pytest.mark.usefixtures("kept")
def test_a_backup_is_brought_to_another_computer(run: Run, tmp_path: Path) -> None:
    run("backup", str(tmp_path / "backup"))
    assert main(["restore", str(tmp_path / "backup"), "--data", str(tmp_path / "new" / "folder")]) == 0
    store = Store(tmp_path / "new" / "folder" / FILE_NAME)
    assert store.find_pair(LINK)
    store.close()


def test_while_a_server_runs_it_is_backed_up_but_not_replaced(run: Run, tmp_path: Path, folder: Path) -> None:
    backup = str(tmp_path / "backup")
    with serving(folder, "--local") as server:
        file = (folder / FILE_NAME).stat().st_ino
        assert run("backup", backup)[0] == 0
        assert "A server is running." in run("doctor")[1]
        assert run("restore", backup) == (
            2, "", f"companion restore: {folder / FILE_NAME} is in use by a server; stop that first\n"
        )  # fmt: skip
        assert (folder / FILE_NAME).stat().st_ino == file
        server.process.kill()
        server.process.join()
    assert run("restore", backup)[0] == 0, "the system has let go of the lock of a killed server"


@pytest.mark.parametrize("command", ["backup", "restore"])
def test_faults_are_one_line_and_code_2(run: Run, tmp_path: Path, command: str) -> None:
    code, out, err = run(command, str(tmp_path / "file"))
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert err.startswith(f"companion {command}: ")
    assert "is not there" in err


@pytest.mark.parametrize("command", [("backup", "file"), ("restore", "file"), ("doctor",)])
def test_a_folder_that_cannot_be_looked_into_is_reported(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch, command: tuple[str, ...]
) -> None:
    def refused(path: Path) -> bool:
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr(Path, "is_file", refused)
    code, out, err = run(*command)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert "Permission denied" in err
    assert str(folder) in err or "file" in err


@pytest.mark.usefixtures("kept")
def test_the_doctor_says_that_all_is_well_and_how_much_is_kept(run: Run, tmp_path: Path, folder: Path) -> None:
    code, out, err = run("doctor")
    assert (code, err) == (0, "")
    lines = out.splitlines()
    assert lines[0] == f"All is well with {folder / FILE_NAME}."
    assert "No server is running." in lines[2]
    assert "kB" in lines[2]
    assert f"version is {len(MIGRATIONS)}." in out
    assert "1 pair, 0 designs, 2 entries in logbooks, 0 photos (0 bytes)." in lines
    assert "No backup was made yet: `companion backup FILE` makes one." in lines
    assert "0 things set aside that could not be read." in lines
    run("backup", str(tmp_path / "backup"))
    assert "UTC, today." in run("doctor")[1]


def test_the_doctor_tells_how_old_the_newest_backup_is(run: Run, folder: Path, kept: Pair) -> None:
    assert kept
    damaged(folder / FILE_NAME, "INSERT INTO meta VALUES ('newest_backup', '2020-02-29T12:00:00+00:00')")
    out = run("doctor")[1]
    assert "Newest backup: 2020-02-29 12:00 UTC, " in out
    assert "days ago." in out
    damaged(folder / FILE_NAME, "UPDATE meta SET value = x'00ff' WHERE name = 'newest_backup'")
    assert "No backup was made yet" in run("doctor")[1]


@pytest.mark.usefixtures("kept")
@pytest.mark.parametrize("how", DAMAGE)
def test_the_doctor_finds_damage(run: Run, folder: Path, how: str) -> None:
    DAMAGE[how](folder / FILE_NAME)
    code, out, err = run("doctor")
    assert (code, err) == (1, "")
    assert out.startswith("Something is wrong:\n- ")
    assert "is damaged" in out
    assert "companion restore" in out


@pytest.mark.usefixtures("kept")
def test_the_doctor_finds_damage_that_no_question_meets(run: Run, folder: Path) -> None:
    """An index that a server may never read is checked too: sqlite.org/pragma.html#pragma_integrity_check."""
    overwritten(folder / FILE_NAME, "followers_of_a_design")
    code, out, _ = run("doctor")
    assert code == 1
    assert "is damaged" in out
    assert "1 pair" in out


@pytest.mark.usefixtures("kept")
def test_the_doctor_finds_entries_of_no_pair(run: Run, folder: Path) -> None:
    damaged(folder / FILE_NAME, "UPDATE log SET pair = 99")
    code, out, _ = run("doctor")
    assert code == 1
    assert "rows of log that belong to nothing: 2" in out


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such modes")
@pytest.mark.parametrize("name", [".", FILE_NAME])
def test_the_doctor_finds_what_others_can_read(run: Run, folder: Path, kept: Pair, name: str) -> None:
    assert kept
    os.chmod(folder / name, 0o755)
    code, out, _ = run("doctor")
    assert code == 1
    assert "other users of this computer" in out


@pytest.mark.usefixtures("kept")
def test_the_doctor_finds_a_disk_that_is_nearly_full(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("companion.cli.doctor.LEAST_FREE", 10**18)
    code, out, _ = run("doctor")
    assert code == 1
    assert "are free on the disk" in out


@pytest.mark.usefixtures("kept")
def test_the_doctor_names_what_a_restore_has_kept(run: Run, tmp_path: Path, folder: Path) -> None:
    run("backup", str(tmp_path / "backup"))
    run("restore", str(tmp_path / "backup"))
    [kept] = folder.glob("tapeline-until-*.sqlite3")
    assert f"Kept from before: {kept.name}, " in run("doctor")[1]


def test_the_doctor_misses_a_file_and_makes_none(run: Run, folder: Path) -> None:
    code, out, err = run("doctor")
    assert (code, err) == (1, "")
    assert f"{folder / FILE_NAME} is not there" in out
    assert not list(folder.iterdir())
    (folder / FILE_NAME).touch(mode=0o600)
    assert "is empty" in run("doctor")[1]


@pytest.mark.parametrize(
    "before", ["see /pair/", "x" * 60 + "/pair/", "\n", r"\n", "/knit " + "Ab3_Ab3_Ab3_Ab3_Ab3_-Z " * 4]
)
def test_the_doctor_shows_what_was_set_aside_without_a_link(run: Run, folder: Path, kept: Pair, before: str) -> None:
    """Nor does it pass on what would tell a terminal to do something (ECMA-48: escape is 1B in hexadecimal)."""
    link = "kQ7_" * 5 + "-Z"
    damaged(
        folder / FILE_NAME,
        "INSERT INTO set_aside VALUES (?, 'entry as sent', 'kind: unknown', ?, 'hash', '2025-11-03T12:00:00+00:00')",
        kept.id,
        f'{{"text": "\x1b[2J {before}{link}/knit", "more": "{"y " * 5000}"}}',
    )
    code, out, _ = run("doctor")
    assert code == 0, "it is kept, and no fault of the file"
    assert "1 thing set aside that could not be read:" in out
    assert f"Pair {kept.id}:" in out
    assert '2025-11-03 entry as sent: kind: unknown: {"text": "' in out
    assert link[:4] not in out
    assert "\x1b" not in out
    assert max(map(len, out.splitlines())) < 250


def test_of_much_that_was_set_aside_the_doctor_shows_some(run: Run, folder: Path, kept: Pair) -> None:
    damaged(
        folder / FILE_NAME,
        """WITH RECURSIVE n (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM n WHERE n < 120)
        INSERT INTO set_aside SELECT ?, 'entry ' || n, 'why', 'raw', 'hash', '2025-11-03' FROM n""",
        kept.id,
    )
    lines = run("doctor")[1].splitlines()
    assert "120 things set aside that could not be read:" in lines
    assert lines[-1] == "    and 100 more"
    assert len(lines) < 40


def test_a_leader_who_has_lost_her_link_gets_another(run: Run, folder: Path) -> None:
    store = Store(folder / FILE_NAME)
    lost, joined = "L" * 21 + "A", "F" * 21 + "A"
    store.designs.add(lost, joined, "{}")
    code, out, err = run("lead", f"https://socks.example/join/{joined}/")
    assert (code, err) == (0, "")
    found = re.match(r"/design/([\w-]{22})\n", out)
    assert found
    assert store.designs.led_by(lost) is None
    again = store.designs.led_by(found[1])
    assert again == store.designs.joined_by(joined)
    assert again
    assert again.handed_out == joined
    for wrong in (lost, "nothing"):
        code, out, err = run("lead", wrong)
        assert (code, out) == (2, "")
        assert "LINK: “" in err
    store.close()
