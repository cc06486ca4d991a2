"""The `companion` command: what it prints, and one clear line for everything that is wrong."""

from __future__ import annotations

import io
import json
import os
import re
import subprocess
import sys
from importlib.metadata import version
from pathlib import Path
from typing import Any

import pytest

from companion.cli import main
from companion.planning import read_plan

COMPANION = [sys.executable, "-c", "import sys; from companion.cli import main; sys.exit(main())"]


@pytest.fixture
def plan_file(tmp_path: Path, request_file: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["plan", str(request_file), "--format", "json"]) == 0
    path = tmp_path / "plan.json"
    path.write_text(capsys.readouterr().out)
    return path


def recalculated(plan_file: Path, capsys: pytest.CaptureFixture[str], *options: str) -> dict[str, Any]:
    assert main(["recalc", str(plan_file), "--format", "json", *options]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_a_plan_is_printed_as_the_document(plan_file: Path) -> None:
    document = json.loads(plan_file.read_text())
    plan, faults = read_plan(document)
    assert not faults
    assert plan
    assert document["schema"] == 1
    assert document["request"]["schema"] == 1
    assert document["sections"][0]["key"] == "cuff"


def test_a_plan_is_printed_as_a_pattern(request_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(request_file)]) == 0
    text = capsys.readouterr().out
    assert "Thursday socks" in text
    assert "[k2, p2] x" in text
    assert " cm" in text
    assert main(["plan", str(request_file), "--unit", "in"]) == 0
    assert " in round the foot" in capsys.readouterr().out


def test_where_the_feet_differ_both_socks_are_printed_and_either_alone(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    request = tmp_path / "request.json"
    feet = {"foot": {"ball_circumference_cm": 23, "length_cm": 24}, "other_foot": {"length_cm": 26}}
    request.write_text(json.dumps({"schema": 1, "title": "Odd feet", **feet, "gauge": {"stitches_per_10cm": 32}}))

    def printed(*options: str) -> str:
        assert main(["plan", str(request), *options]) == 0
        return capsys.readouterr().out

    both, first, second = printed(), printed("--sock", "1"), printed("--sock", "2")
    assert both == f"{first}\n{second}"
    assert [text.splitlines()[0] for text in (first, second)] == ["Odd feet, sock 1", "Odd feet, sock 2"]
    for text, heel_to_toe in ((first, 23), (second, 25)):  # a centimetre of ease
        assert "Knit the other sock by its own numbers, for the other foot." in text
        found = re.search(r"([0-9.]+) cm from heel to toe", text)
        assert found
        assert float(found[1]) == pytest.approx(heel_to_toe, abs=0.15)
    documents = [json.loads(printed("--format", "json", *options)) for options in ([], ["--sock", "2"])]
    assert [document["request"]["foot"]["length_cm"] for document in documents] == [24, 26]


def test_a_request_is_read_from_the_standard_input(
    request_file: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(request_file.read_bytes())))
    assert main(["plan", "-"]) == 0
    assert "Thursday socks" in capsys.readouterr().out


@pytest.mark.parametrize("body", [b"{}", b"{"])
def test_faults_of_the_standard_input_name_it(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, body: bytes
) -> None:
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(body)))
    assert main(["plan", "-"]) == 2
    assert all(line.startswith("standard input: ") for line in capsys.readouterr().err.splitlines())


def test_a_closed_standard_input_is_said_to_be_closed(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where a program is started without one, Python has None for it."""
    monkeypatch.setattr("sys.stdin", None)
    assert main(["plan", "-"]) == 2
    assert capsys.readouterr().err == "standard input: cannot be read: it is closed\n"


def test_a_recalculation_is_a_document(plan_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = recalculated(plan_file, capsys, "--round", "85", "--stitches", "27")
    assert found["schema"] == 1
    assert found["place"] == {"sock": 1, "section": "heel-flap", "round": 85}
    assert found["verdict"] == "change"
    assert found["why"]
    assert found["gauge"]["stitches_per_10cm"] == 27
    assert set(found["if_unchanged"]) >= {"leg_stitches", "foot_length_cm"}
    assert found["changes"]
    assert sum(option["recommended"] for option in found["options"]) == 1
    assert not any("plan" in option for option in found["options"])


def test_the_recalculated_plan_begins_with_what_is_knitted(plan_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before, _ = read_plan(json.loads(plan_file.read_text()))
    found = recalculated(plan_file, capsys, "--sock", "2", "--round", "85", "--stitches", "27", "--rounds", "40")
    after, faults = read_plan(found["plan"])
    assert not faults
    assert before
    assert after
    assert after.rounds()[:85] == before.rounds()[:85]
    assert after != before
    assert found["place"]["sock"] == 2


def test_a_gauge_that_agrees_leaves_the_plan(plan_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = recalculated(plan_file, capsys, "--round", "85", "--stitches", "30")
    assert found["verdict"] == "nothing to change"
    assert found["changes"] == []


def test_a_recalculation_is_printed_in_the_order_of_the_screen(
    plan_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The verdict, her numbers and the size asked for, the way advised with its changes, the others a line each."""
    assert main(["recalc", str(plan_file), "--round", "40", "--stitches", "27"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Sock 1, after round 40 (leg)"
    assert lines[1].startswith("Looser than planned: the foot would be ")
    assert re.fullmatch(r"27 stitches over 10 cm, planned 30, rounds not counted\. Wanted: [\d.]+ cm\.", lines[2])
    advised, others = lines.index(next(line for line in lines if "(recommended)" in line)), lines.index("Other ways")
    assert any(" → " in line for line in lines[advised:others])
    ripped = re.compile(r"  Rip back .*: \d+ rounds ripped: [\d,]+ stitches\. .* long\.$")
    assert any(ripped.match(line) for line in lines[others:])
    assert lines[-1].startswith("Estimated, not counted: rounds, ")


def test_where_there_is_nothing_to_choose_the_size_that_comes_is_printed(
    plan_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Its place is named as a knitter names it."""
    assert main(["recalc", str(plan_file), "--round", "85", "--stitches", "30", "--rounds", "42"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Sock 1, after round 85 (heel flap)"
    assert lines[1].startswith("As planned. Knit on")
    assert re.fullmatch(r"As it is: Foot [\d.]+ cm .*, [\d.]+ cm long\.", lines[-1])


def test_a_recalculation_is_printed_in_inches(plan_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["recalc", str(plan_file), "--round", "40", "--stitches", "27", "--unit", "in"]) == 0
    text = capsys.readouterr().out
    assert " in round" in text
    assert not re.search(r"\d cm\b", text)


UNSOUND = [
    (b"", "line 1, column 1"),
    (b'{"foot": {,}}', "line 1, column 11"),
    (b"\xff\xfe", "not UTF-8"),
    (b'{"schema": 1, "schema": 1}', "twice"),
    (b'{"foot": NaN}', "NaN"),
    (b"[" * 100_000, "nested"),
    (b'{"foot": ' * 100_000, "nested"),
    # What is sound JSON but neither a request nor a plan.
    (b"[]", ""),
    (b"null", ""),
    (b'"sock"', ""),
    (b'{"\\ud800": 1}', "\\ud800"),
]


@pytest.mark.parametrize(("content", "says"), UNSOUND)
@pytest.mark.parametrize("command", ["plan", "recalc", "grid", "pattern"])
def test_a_faulty_file_is_reported_line_by_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: str, content: bytes, says: str
) -> None:
    path = tmp_path / "request.json"
    path.write_bytes(content)
    options = ["--round", "1", "--stitches", "30"] if command == "recalc" else []
    assert main([command, str(path), *options]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert says in err
    assert all(line.startswith(str(path)) for line in err.splitlines())
    assert err.endswith("\n")
    assert "Traceback" not in err


@pytest.mark.parametrize(
    ("foot", "says"),
    [
        (
            '{"ball_circumference_cm": 1e999, "length_cm": 25}',
            "Ball of the foot, foot.ball_circumference_cm: inf given",
        ),
        ('{"ball_circumference_cm": 23, "length_cm": "long"}', "Foot length, foot.length_cm: long given"),
        ("[23, 25]", "foot: "),
    ],
)
def test_a_faulty_measurement_is_reported_by_its_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], foot: str, says: str
) -> None:
    path = tmp_path / "request.json"
    path.write_text(f'{{"foot": {foot}, "gauge": {{"stitches_per_10cm": 30}}}}')
    assert main(["plan", str(path)]) == 2
    err = capsys.readouterr().err
    assert err.startswith(f"{path}: {says}")
    assert err.count("\n") == 1


def test_a_plan_whose_rounds_do_not_follow_each_other_is_reported(
    plan_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    document = json.loads(plan_file.read_text())
    del document["sections"][0]
    plan_file.write_text(json.dumps(document))
    assert main(["recalc", str(plan_file), "--round", "1", "--stitches", "30"]) == 2
    assert "round 1 begins with 64 stitches, but 0 come from the round before" in capsys.readouterr().err


def test_more_rounds_than_are_knitted_are_refused(plan_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    check = ["recalc", str(plan_file), "--stitches", "30", "--rounds", "42"]
    assert main([*check, "--round", "41"]) == 2
    assert capsys.readouterr().err.startswith("--rounds: 42 given; only 41 rounds are knitted")
    assert main([*check, "--round", "42"]) == 0
    assert main([*check, "--round", "0"]) == 0  # a swatch


def test_a_check_may_be_counted_over_another_length(plan_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """15 stitches over 5 cm are 30 over 10 cm."""
    check = ["recalc", str(plan_file), "--round", "40", "--format", "json"]
    assert main([*check, "--over", "5", "--stitches", "15", "--rounds", "21"]) == 0
    gauge = json.loads(capsys.readouterr().out)["gauge"]
    assert (gauge["stitches_per_10cm"], gauge["rounds_per_10cm"]) == (30, 42)
    assert main([*check, "--over", "1", "--stitches", "15"]) == 2
    assert capsys.readouterr().err.startswith("--over: ")


def test_each_fault_has_its_own_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "request.json"
    path.write_text('{"foot": {"ball_circumference_cm": 99, "length_cm": 1}, "gauge": {}, "colour": "red"}')
    assert main(["plan", str(path)]) == 2
    lines = capsys.readouterr().err.splitlines()
    assert len(lines) == 4
    for where in ("foot.ball_circumference_cm", "foot.length_cm", "gauge.stitches_per_10cm", "colour"):
        assert sum(where in line for line in lines) == 1


@pytest.mark.parametrize("name", ["nowhere.json", ".", "\0"])
def test_a_file_that_cannot_be_read_is_reported(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["plan", name]) == 2
    err = capsys.readouterr().err
    assert "cannot be read" in err
    assert err.count("\n") == 1


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--round", "100000", "--stitches", "30"], "--round: 100000 given; this sock has"),
        (["--round", "-1", "--stitches", "30"], "--round: -1 given"),
        (["--round", "85"], "count stitches over a width"),
        (["--round", "85", "--stitches", "3"], "--stitches: 3 given; allowed from 4 up"),
        (["--round", "85", "--stitches", "59"], "--stitches: 59 over 10 cm"),
    ],
)
def test_an_impossible_check_is_reported_by_its_option(
    plan_file: Path, capsys: pytest.CaptureFixture[str], options: list[str], says: str
) -> None:
    assert main(["recalc", str(plan_file), *options]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert says in err


@pytest.mark.parametrize(
    "arguments",
    [
        [],
        ["knit"],
        ["plan"],
        ["plan", "x", "--unit", "furlong"],
        ["recalc", "x"],
        ["recalc", "x", "--round", "many"],
        ["recalc", "x", "--round", "1", "--stitches", "nan"],
        ["recalc", "x", "--round", "1", "--stitches", "inf"],
        ["recalc", "x", "--round", "1", "--sock", "3"],
        ["serve", "--port", "eighty"],
    ],
)
def test_a_wrong_call_is_reported_in_one_line(capsys: pytest.CaptureFixture[str], arguments: list[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(arguments)
    assert ended.value.code == 2
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert "--help" in err


def test_a_request_given_to_recalc_is_to_become_a_plan_first(
    request_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["recalc", str(request_file), "--round", "3", "--stitches", "32"]) == 2
    err = capsys.readouterr().err
    assert err == (
        f"{request_file}: this is a request; make a plan of it first: "
        f"companion plan {request_file} --format json > plan.json\n"
    )


def test_a_count_may_have_a_decimal_comma_and_a_word_is_refused_clearly(
    plan_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = ["--round", "60"]
    assert recalculated(plan_file, capsys, *place, "--stitches", "32,5", "33") == recalculated(
        plan_file, capsys, *place, "--stitches", "32.5", "33"
    )
    with pytest.raises(SystemExit):
        main(["recalc", str(plan_file), *place, "--stitches", "many"])
    assert "“many” given; a number is needed, like 32 or 32.5" in capsys.readouterr().err


def test_the_version_is_the_one_that_is_installed(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["--version"])
    assert ended.value.code == 0
    assert capsys.readouterr().out == f"Tapeline {version('tapeline')}\n"


def test_a_reader_that_has_seen_enough_is_no_fault(request_file: Path) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    with os.fdopen(writing, "wb") as closed:
        done = subprocess.run(
            [*COMPANION, "plan", str(request_file), "--format", "json"],
            stdout=closed,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert (done.returncode, done.stderr) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="only Linux has a file that is always full")
def test_a_full_disk_is_reported_in_one_line(request_file: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [*COMPANION, "plan", str(request_file)], stdout=full, stderr=subprocess.PIPE, check=False, text=True
        )
    assert (done.returncode, done.stderr) == (1, "standard output: cannot be written: No space left on device\n")


@pytest.mark.parametrize("command", ["plan", "pattern"])
def test_a_pattern_is_worded_for_the_left_handed(
    command: str, request_file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([command, str(request_file), "--left-handed"]) == 0
    told = capsys.readouterr().out
    assert told.startswith("Thursday socks\n\nFor knitting from left to right, left-handed:")
    assert "k2tog: knit two together: one less, leaning to the left" in told
