"""Firefox and WebKit calculate without a server what it calculates itself, and plan a pair that becomes its own."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from companion.on_phone.answer import answer
from companion.on_phone.runtime import installed

from ...conftest import FORM
from ...on_phone import NOT_HERE, RUNTIME
from ...on_phone.test_new_plan import new_plan
from ...on_phone.test_same_answer import checks
from .. import other_browsers
from ..other_browsers import OtherBrowser
from ..pages.test_other_browsers import BROWSERS, KEPT, count
from ..server import Server
from .calculating import FETCH

CALCULATED = 240
"""Seconds that a busy computer may take to begin a Python in its browser."""

ASK = """(name, question) => {
    const { pathname } = new URL(document.querySelector("script[src*='/static/']").src);
    const shown = document.createElement("output");
    shown.id = "answered";
    document.body.append(shown);
    import(`${pathname.split("/js/")[0]}/js/phone/planning.js`)
        .then(({ ask }) => ask(name, JSON.parse(question)))
        .then((answer) => { window.answer = JSON.stringify(answer); return "answered"; }, String)
        .then((words) => { shown.textContent = words; });
}"""
FILL_IN = """(fields) => {
    const form = document.getElementById("plan-form");
    for (const [name, value] of Object.entries(JSON.parse(fields))) {
        const field = form.elements.namedItem(name);
        if (field.type === "text") field.value = value;
    }
    form.requestSubmit(form.querySelector("button.primary"));
}"""

pytestmark = pytest.mark.skipif(not installed(RUNTIME), reason=NOT_HERE)


@pytest.fixture(params=BROWSERS)
def other(request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[OtherBrowser]:
    """A window of a browser that knows nothing yet."""
    start, here = BROWSERS[request.param]
    if not here:
        pytest.skip(f"{request.param} is not installed; tests/run says which packages have it")
    monkeypatch.setattr(other_browsers, "JOURNEY", 2 * CALCULATED)
    folder = tmp_path / "browser"
    folder.mkdir()
    with start(folder) as window:
        yield window


def test_all_without_a_server(other: OtherBrowser, own_calculating: Server) -> None:
    other.goto(f"{own_calculating.address}/")
    assert other.call(KEPT)
    other.reload()
    other.call(FETCH)
    own_calculating.kill()

    other.goto(f"{own_calculating.address}/plan")
    for name, asked in (("page", checks(1)[0]), ("form", new_plan({"other_ball": "24.5"}))):
        given = json.dumps(asked)
        other.call(ASK, name, given)
        other.comes_to("#answered", "^answered$", CALCULATED)
        assert json.loads(other.call("() => window.answer")) == json.loads(answer(name, given))
        other.call("() => document.getElementById('answered').remove()")

    other.call(FILL_IN, json.dumps(FORM))
    other.comes_to("#only-here", "Planned on this phone", CALCULATED)
    link = other.call("() => location.pathname.split('/')[2]")
    other.goto(other.call("() => document.querySelector('a.primary').href"))
    other.shows("#progress", r"^0 of \d+$")
    count(other, 2)
    other.shows("#progress", r"^2 of ")

    own_calculating.start()
    other.call("() => { dispatchEvent(new Event('online')) }")
    other.shows("#kept", r"^Kept and sent\.$", within=90)
    assert own_calculating.counted(link) == [1, 2]
