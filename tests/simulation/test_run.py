"""Simulated knitters: the same seed knits the same socks, and checking with this program is worth it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from contextlib import suppress
from dataclasses import replace
from itertools import groupby

import pytest

from companion.cli import main
from companion.simulation.kinds import KINDS
from companion.simulation.life import Outcome, life_of
from companion.simulation.policies import POLICIES
from companion.simulation.run import outcomes
from companion.simulation.table import share, table

from ..cli.test_plans import COMPANION
from ..conftest import fully

SEED = 20


def silent(_done: int) -> None:
    return None


@pytest.fixture(scope="module")
def found() -> list[Outcome]:
    return outcomes(1, SEED, silent, workers=1)


def test_the_same_seed_gives_the_same_socks_on_any_number_of_workers(found: list[Outcome]) -> None:
    assert outcomes(1, SEED, silent, workers=2) == found
    assert life_of(SEED, "steady", 0) == [one for one in found if one.kind == "steady"]
    assert life_of(SEED, "steady", 1) != life_of(SEED, "steady", 0)
    assert life_of(SEED + 1, "off", 1) != life_of(SEED, "off", 1)


def test_checking_with_this_program_is_better_than_not_checking() -> None:
    lives = [life_of(3, "off", number) for number in range(16 if fully() else 8)]
    fit = {policy: share(one.fits for life in lives for one in life if one.policy == policy) for policy in POLICIES}
    assert fit["never"] < 20
    assert fit["Tapeline"] > 75
    assert fit["truth"] > 85


def test_nobody_whose_gauge_is_as_planned_is_advised_to_change_anything() -> None:
    lives = [life_of(4, "steady", number) for number in range(15 if fully() else 5)]
    ours = [one for life in lives for one in life if one.policy == "Tapeline"]
    assert not any(one.changes or one.ripped for one in ours)
    assert all(one.counted for one in ours)


def test_the_table_has_a_line_for_each_kind_of_knitter(found: list[Outcome]) -> None:
    lines = [line for line in table(found).splitlines() if line.startswith("| ")]
    assert [line.split(" | ")[0] for line in lines[2:]] == [f"| {kind.title}" for kind in KINDS.values()]
    assert {line.count("|") for line in lines} == {12}


def test_what_is_not_reached_is_told_with_the_reason(found: list[Outcome]) -> None:
    """One of one sock that fits reaches any share, and none of one reaches none."""
    ours = [one for one in found if one.policy == "Tapeline"]
    felt, fits = (
        [replace(one, circumference_error=error, length_error_cm=0.0) for one in ours] for error in (0.03, 0.02)
    )
    assert "Not reached" not in table(fits + [one for one in found if one.policy != "Tapeline"])
    told = table(felt + [one for one in found if one.policy != "Tapeline"])
    wanted = {kind.title: kind.wanted for kind in KINDS.values() if kind.wanted}
    assert told.count("Not reached: ") == len(wanted) > 3
    for title, aim in wanted.items():
        assert f"Not reached: {title}, 0 of {aim.fit}. Why: {aim.why_not}." in told


def test_the_command_prints_the_table_and_its_progress(
    found: list[Outcome], capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    command = ["simulate", "--knitters", "1", "--seed", str(SEED)]
    lives = {life: [*socks] for life, socks in groupby(found, lambda one: (one.kind, one.knitter))}
    monkeypatch.setattr("companion.simulation.run.life_of", lambda _seed, *life: lives[life])  # knitted already
    assert main(command) == 0
    out, err = capsys.readouterr()
    assert "Tapeline" in out
    assert out.startswith("| ")
    assert err.splitlines() == ["1 of 1"]
    # In a terminal a bar is drawn over itself.
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert main(command) == 0
    again, err = capsys.readouterr()
    assert again == out
    assert err.startswith("\r[")
    assert err.endswith(f"\r[{'#' * 40}] 1 of 1\n")
    assert main(["simulate", "--knitters", "0"]) == 2
    assert "allowed: 1 to" in capsys.readouterr().err


@pytest.mark.usefixtures("interrupts")
def test_it_can_be_stopped_before_its_end() -> None:
    command = [*COMPANION, "simulate", "--knitters", "100000"]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as simulating:
        assert simulating.stderr
        try:
            assert simulating.stderr.readline() == "1 of 100000\n"  # it has begun, so that all are at work
            os.killpg(simulating.pid, signal.SIGINT)  # as Ctrl-C does
            out, err = simulating.communicate(timeout=60)
        finally:
            with suppress(ProcessLookupError):
                os.killpg(simulating.pid, signal.SIGKILL)
    assert (simulating.returncode, out) == (130, "")
    assert err.endswith("\nStopped.\n")
    assert "Traceback" not in err
