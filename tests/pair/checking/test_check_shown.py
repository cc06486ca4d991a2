"""The result of a check is put into words where there is neither server nor store."""

from __future__ import annotations

import io
import json
import re
import subprocess
import sys
from typing import Any

from companion.pair.file import PairFile, read_pair_file
from companion.planning import PlanRequest, make_plan

from ...conftest import NOON, Browser, entry

SCRIPT = """
import json, sys
sys.modules.update(flask=None, sqlite3=None)  # importing them fails

from jinja2 import ChoiceLoader, DictLoader, Environment, FileSystemLoader

from companion.pair.checking.check_result import CheckResult
from companion.pair.checking.check_shown import shown
from companion.pair.file import read_pair_file
from companion.pair.logbook import SOCKS
from companion.resources import TEMPLATES
from companion.words import add_words

file, _ = read_pair_file(json.load(sys.stdin))
pair = file.as_state()
page = shown(CheckResult(pair, pair.position(SOCKS[0])), pair.unit)
frame = DictLoader({"lib/base.html": "{% block main %}{% endblock %}"})
templates = Environment(loader=ChoiceLoader([frame, FileSystemLoader(TEMPLATES)]), autoescape=True)
add_words(templates)
address = {"path": sys.argv[1]}
html = templates.get_template("pair/check_result.html").render(page, request=address, csrf_token=lambda: "")
gauges, options, found = page["gauges"], [page["recommended"], *page["others"]], page["result"]
json.dump({
    "verdict": found.verdict,
    "place": [page["pair_title"], page["place"]],
    "gauges": [f"{gauge.number} {gauge.what}" for gauge in gauges],
    "plots": [str(gauge.plot) for gauge in gauges],
    "options": [[one.way.option.title, one.ripped, one.way.price] for one in options],
    "kept": [[one["day"], one["place"], *one["counted"]] for one in page["kept"]],
    "html": html,
}, sys.stdout)
"""


def a_pair(request_data: dict[str, Any]) -> PairFile:
    """Forty rounds at a minute each, and two counts that are looser than the plan's 30 stitches by a tenth."""
    spots = [{"count": 27, "over_cm": 10}, {"count": 54, "over_cm": 20}]
    counts = [entry(number, at=f"2025-11-03T19:{number:02}:00Z") for number in range(1, 41)]
    checks = [entry(number, kind="check", round=40, data={"stitches": spots}) for number in (50, 51)]
    plan = make_plan(PlanRequest.model_validate(request_data)).model_dump(mode="json")
    first = {"number": 1, "sock": 1, "done": 0, "other_done": 0, "created": NOON.isoformat(), "plan": plan}
    head = {"format": "tapeline pair", "version": 1, "title": "Larch", "unit": "cm"}
    file, faults = read_pair_file({**head, "revisions": [first], "log": [*counts, *checks]})
    assert file, faults
    return file


def without_a_server(file: PairFile, address: str = "/pair/larch/check/result") -> dict[str, Any]:
    run = subprocess.run(
        [sys.executable, "-c", SCRIPT, address], input=file.as_text(), capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
    found: dict[str, Any] = json.loads(run.stdout)
    return found


def test_a_check_is_calculated_and_said_without_a_server(request_data: dict[str, Any]) -> None:
    """The counts say 27 stitches over 10 cm: 10 % off a plan of 30 is far more than counting can be off by."""
    found = without_a_server(a_pair(request_data))
    assert found["verdict"] == "change"
    assert found["place"][0] == "Larch"
    assert found["gauges"][0].startswith("27 ")
    assert (
        found["kept"]
        == [["Mon 3 Nov 2025", "Sock 1, leg, after round 22", "27 stitches over 10 cm", "54 stitches over 20 cm"]] * 2
    )
    assert all(plot.startswith("<svg") for plot in found["plots"])
    assert len(found["options"]) > 1
    assert any(ripped and price.endswith(("min.", "h.")) for *_, ripped, price in found["options"])


def test_its_page_is_that_of_the_server(browser: Browser, request_data: dict[str, Any]) -> None:
    file = a_pair(request_data)
    sent = {"pair": (io.BytesIO(file.as_text().encode()), "pair.json"), "csrf_token": browser.token()}
    address = browser.client.post("/import", data=sent).headers["Location"].partition("?")[0] + "/check/result"
    page = re.sub(r'(name="csrf_token" value=)"[^"]*"', r'\1""', browser.get(address).text)
    html = without_a_server(file, address)["html"].strip()
    assert html.startswith('<div class="check answer">')
    assert html in page
