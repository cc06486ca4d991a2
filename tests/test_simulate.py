"""Simulated knitters: the same seed knits the same socks, and checking with this program is worth it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from contextlib import suppress
from random import Random

import numpy as np
import pytest

from companion.cli import main
from companion.planning.check_places import check_places
from companion.planning.planner import make_plan
from companion.simulate import below, outcomes, table
from companion.simulated_knitter import POLICIES, Outcome, Sock, Truth, asked_by, counted, life_of

from .outside.measured_feet import LARGE, SMALL
from .test_cli import COMPANION


def silent(_done: int) -> None:
    return None


@pytest.fixture(scope="module")
def found() -> list[Outcome]:
    return outcomes(60, 20, silent, workers=1)


def test_the_same_seed_gives_the_same_socks_on_any_number_of_workers(found: list[Outcome]) -> None:
    assert outcomes(12, 20, silent, workers=2) == found[: 12 * len(POLICIES)]
    assert life_of(20, 3) == found[3 * len(POLICIES) : 4 * len(POLICIES)]
    assert life_of(21, 3) != life_of(20, 3)


def test_checking_with_this_program_is_better_than_not_checking_and_than_checking_blindly(found: list[Outcome]) -> None:
    def errors(policy: str) -> tuple[float, float]:
        socks = [one for one in found if one.policy == policy and one.group == "off"]
        return below([one.circumference_error for one in socks]), float(np.mean([one.length_error_cm for one in socks]))

    never, blindly, tool = (errors(policy) for policy in POLICIES)
    assert tool[0] < never[0] / 3
    assert tool[1] < min(never[1] / 3, blindly[1])


def test_the_part_that_stays_below_is_numpys_quantile() -> None:
    values = list(np.random.default_rng(7).normal(size=333))
    assert below(values) == np.quantile(values, 0.95, method="inverted_cdf")
    assert below([]) == 0


def test_feet_are_as_large_as_the_surveyed_ones() -> None:
    """ANSUR II: the tails of both sexes together."""
    draw = Random(5)
    lengths = [10 * asked_by(draw).foot.length_cm for _ in range(2000)]
    # Half of them women and half men: 5 % of the women are shorter than the first, 5 % of the men longer than the last.
    (_, short), (long, _) = SMALL, LARGE
    assert np.mean([length < short.length for length in lengths]) == pytest.approx(0.025, abs=0.01)
    assert np.mean([length > long.length for length in lengths]) == pytest.approx(0.025, abs=0.01)


def test_counts_are_of_the_true_gauge_of_the_fabric_that_is_there() -> None:
    plan = make_plan(asked_by(Random(4)))
    sock = Sock(plan, Truth(30, 42, 0.0))
    sock.knit_to(check_places(plan)[0].round)
    seen = [counted(sock, (3, 3), Random(seed)) for seed in range(300)]
    stitches = [
        sum(spot.count for spot in check.stitches) / sum(spot.over_cm for spot in check.stitches) for check in seen
    ]
    assert 10 * np.mean(stitches) == pytest.approx(30, rel=0.01)
    assert all(spot.over_cm * 42 / 10 <= sock.done for check in seen for spot in check.rounds)


def test_the_command_prints_the_table_and_its_progress(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    command = ["simulate", "--knitters", "3", "--seed", "2"]
    assert main(command) == 0
    out, err = capsys.readouterr()
    assert "this tool" in out
    assert out.startswith("| ")
    assert err.splitlines() == ["1 of 3", "2 of 3", "3 of 3"]
    # In a terminal a bar is drawn over itself.
    monkeypatch.setattr(sys.stderr, "isatty", lambda: True)
    assert main(command) == 0
    again, err = capsys.readouterr()
    assert again == out
    assert err.startswith("\r[")
    assert err.endswith(f"\r[{'#' * 40}] 3 of 3\n")
    assert main(["simulate", "--knitters", "0"]) == 2
    assert "allowed: 1 to" in capsys.readouterr().err


def test_the_table_has_a_line_for_each_group_and_policy(found: list[Outcome]) -> None:
    lines = [line for line in table(found).splitlines() if line.startswith("| gauge")]
    assert len(lines) == 3 * len(POLICIES)
    assert all(line.count("|") == 8 for line in lines)


@pytest.mark.usefixtures("interrupts")
def test_it_can_be_stopped_before_its_end() -> None:
    command = [*COMPANION, "simulate", "--knitters", "1000000"]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True
    ) as simulating:
        assert simulating.stderr
        try:
            assert simulating.stderr.readline() == "1 of 1000000\n"  # it has begun, so that all are at work
            os.killpg(simulating.pid, signal.SIGINT)  # as Ctrl-C does
            out, err = simulating.communicate(timeout=60)
        finally:
            with suppress(ProcessLookupError):
                os.killpg(simulating.pid, signal.SIGKILL)
    assert (simulating.returncode, out) == (130, "")
    assert err.endswith("\nStopped.\n")
    assert "Traceback" not in err
