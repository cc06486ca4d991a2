"""The commands that print a design for several sizes: the grid and the graded pattern."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from companion.cli import main


@pytest.fixture
def design_file(tmp_path: Path, request_data: dict[str, Any]) -> Path:
    """A request without foot and gauge."""
    path = tmp_path / "design.json"
    path.write_text(json.dumps({key: value for key, value in request_data.items() if key not in ("foot", "gauge")}))
    return path


@pytest.mark.parametrize(
    ("form", "begins"), [("markdown", "**Thursday socks: "), ("csv", "what,"), ("html", "<table ")]
)
def test_a_grid_is_printed_as_a_table(
    design_file: Path, capsys: pytest.CaptureFixture[str], form: str, begins: str
) -> None:
    assert main(["grid", str(design_file), "--format", form, "--circumferences", "20", "22.5"]) == 0
    out = capsys.readouterr().out
    assert out.startswith(begins)
    assert "24.3" in out
    assert all(f"{stitches} × " in out for stitches in (28, 30, 32, 34, 36))


def test_a_grid_is_drawn_round_the_gauge_of_a_whole_request(
    request_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["grid", str(request_file), "--unit", "in"]) == 0
    head = capsys.readouterr().out.splitlines()[2]
    # 26 to 34 stitches over 10 cm are 26.4 to 34.5 over 4 in.
    assert re.findall(r"([\d.]+) ×", head) == ["26.4", "28.4", "30.5", "32.5", "34.5"]


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--circumferences", "3"], "--circumferences: 3 given; "),
        (["--circumferences", "20", "22", "--lengths", "24"], "--lengths: 1 given; "),
        (["--gauges", "fine"], "--gauges: fine given; "),
    ],
)
def test_an_impossible_size_is_reported_by_its_option(
    design_file: Path, capsys: pytest.CaptureFixture[str], options: list[str], says: str
) -> None:
    assert main(["grid", str(design_file), *options]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert err.startswith(says)


def test_a_graded_pattern_is_printed(design_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sizes = ["--circumferences", "8", "9", "--lengths", "8 1/2", "9 3/4", "--unit", "in", "--gauge", "30x42"]
    assert main(["pattern", str(design_file), *sizes]) == 0
    text = capsys.readouterr().out
    assert text.startswith("Thursday socks\n")
    assert "Sizes: 8 (9) in;" in text
    assert "To fit: a foot 8 (9) in round the ball and 8 1/2 (9 3/4) in long." in text
    assert "Gauge: 30 stitches and 42 rounds over 4 in" in text
    assert re.search(r"^Round 1: cast on \d+ \(\d+\)$", text, re.MULTILINE)


def test_a_toe_for_one_foot_is_graded_for_one_sock_and_printed_for_both(
    request_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    request = json.loads(request_file.read_text())
    request_file.write_text(json.dumps(request | {"construction": {"toe": "left foot"}}))
    assert main(["pattern", str(request_file), "--circumferences", "22", "24"]) == 0
    graded = capsys.readouterr().out
    assert "Sizes: 22 (24) cm;" in graded
    assert "This sock is for the left foot" in graded
    assert "shape its toe for the right foot: where only one side is shaped, exchange the beginning" in graded
    assert main(["pattern", str(request_file)]) == 0
    both = capsys.readouterr().out
    assert "This sock is for the left foot" in both
    assert "This sock is for the right foot" in both


def test_the_pattern_of_one_foot_is_printed_as_markdown(request_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["pattern", str(request_file), "--format", "markdown"]) == 0
    text = capsys.readouterr().out
    assert text.startswith("# Thursday socks\n")
    assert "\n## Cuff, " in text
    assert "only" not in re.sub(r"only on|only as", "", text.split("## Cuff")[1].split("## To finish")[0])


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ([], "it has no foot"),
        (["--circumferences", "22"], "it has no gauge"),
        (["--circumferences", "22", "--gauge", "fine"], "--gauge: fine given"),
        (["--circumferences", "22", "--gauge", ""], "--gauge: needed are stitches"),
        (["--circumferences", "9", "--gauge", "15"], "a sock needs 16 or more"),
    ],
)
def test_a_pattern_that_lacks_something_says_what(
    design_file: Path, capsys: pytest.CaptureFixture[str], options: list[str], says: str
) -> None:
    assert main(["pattern", str(design_file), *options]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert says in err


@pytest.fixture
def free_design_file(tmp_path: Path) -> Path:
    """A design that leaves a choice, with a note."""
    path = tmp_path / "free.json"
    constructions = [{"heel": "flap"}, {"direction": "toe-up", "heel": "short-row", "toe": "short-row"}]
    path.write_text(
        json.dumps({"title": "Larch", "constructions": constructions, "notes": {"heel": "Take it slowly."}})
    )
    return path


SIZES = ("--circumferences", "20", "22")


@pytest.mark.parametrize(("number", "begun"), [("1", "cast on"), ("2", "cast on, for the toe")])
def test_a_grid_is_made_of_the_construction_chosen_of_a_design(
    free_design_file: Path, capsys: pytest.CaptureFixture[str], number: str, begun: str
) -> None:
    assert main(["grid", str(free_design_file), "--construction", number, *SIZES]) == 0
    assert f"| Stitches to {begun}" in capsys.readouterr().out


def test_a_pattern_takes_a_design_with_its_first_construction_and_its_notes(
    free_design_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for options, flap in (((), True), (("--construction", "2"), False)):
        assert main(["pattern", str(free_design_file), "--gauge", "30x42", *SIZES, *options]) == 0
        text = capsys.readouterr().out
        assert ("Heel flap, " in text) == flap
        assert "\nFrom the leader: Take it slowly.\n" in text


def test_a_construction_that_is_not_allowed_is_refused_with_those_that_are(
    free_design_file: Path, design_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["grid", str(free_design_file), "--construction", "3"]) == 2
    told = "--construction: 3 given; allowed: 1 (cuff-down, flap, wedge), 2 (toe-up, short-row, short-row)\n"
    assert capsys.readouterr().err == told
    assert main(["pattern", str(design_file), "--construction", "0"]) == 2
    assert capsys.readouterr().err == "--construction: 0 given; allowed: 1\n"


def test_a_fault_in_a_design_is_reported_by_its_place(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "faulty.json"
    path.write_text(json.dumps({"constructions": [{"heel": "flop"}]}))
    assert main(["grid", str(path)]) == 2
    assert "constructions.0.heel: " in capsys.readouterr().err


def test_a_pattern_of_a_design_says_which_options_are_missing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "design.json"
    path.write_text('{"schema": 1, "title": "Larch", "constructions": [{}]}')
    assert main(["pattern", str(path)]) == 2
    foot, gauge = capsys.readouterr().err.splitlines()
    assert foot == f"{path}: it has no foot; give one or several by --circumferences, like --circumferences 22 24"
    assert gauge == f"{path}: it has no gauge; give it by --gauge, like --gauge 30 or --gauge 30x42"
    assert main(["pattern", str(path), "--circumferences", "22", "--gauge", "30"]) == 0


@pytest.mark.parametrize("typed", [["30", "32.5"], ["30,32.5"], ["30,", "32,5"], ["30; 32,5"]])
def test_numbers_of_an_option_may_stand_apart_or_with_commas_between(
    design_file: Path, capsys: pytest.CaptureFixture[str], typed: list[str]
) -> None:
    assert main(["grid", str(design_file), "--circumferences", "20,22", "--gauges", *typed]) == 0
    out = capsys.readouterr().out
    assert re.findall(r"([\d.]+) ×", out.splitlines()[2]) == ["30", "32.5"]
    assert all(re.search(rf"^\| [^|]+ \| {ball} \|", out, re.MULTILINE) for ball in (20, 22))


def test_the_faults_of_a_design_call_its_name_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "design.json"
    path.write_text('{"title": 3, "constructions": [{}]}')
    assert main(["grid", str(path)]) == 2
    assert capsys.readouterr().err.startswith(f"{path}: Name of the design, title: ")
