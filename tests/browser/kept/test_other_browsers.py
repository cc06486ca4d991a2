"""Firefox and WebKit go the way of a pair, cut off from the server and back, and calculate without it what it does."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Any

import pytest

from companion.on_phone.answer import answer
from companion.on_phone.runtime import installed

from ...conftest import FORM
from ...on_phone import NOT_HERE, RUNTIME
from ...on_phone.test_new_plan import new_plan
from ...on_phone.test_same_answer import checks
from ..other_browsers import HAS_FIREFOX, HAS_WEBKIT, OtherBrowser, firefox, webkit
from ..server import Server
from .calculating import FETCH
from .test_check_here import ALL_TAKEN, accepted

BROWSERS: dict[str, tuple[Callable[[Path], AbstractContextManager[OtherBrowser]], bool]] = {
    "Firefox": (firefox, HAS_FIREFOX),
    "WebKit": (webkit, HAS_WEBKIT),
}

CALCULATED = 240
"""Seconds that a busy computer may take to begin a Python in its browser."""

KEPT = """() => navigator.serviceWorker.ready.then(({ active }) => new Promise((kept) => {
    const look = () => active.state === "activated" && kept(true);
    active.addEventListener("statechange", look);
    look();
}))"""
"""The worker is active, and so has all that the page needs without network. It is "ready" a little before that."""
CONTROLLED = "() => Boolean(navigator.serviceWorker.controller)"

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
ONLY_BY_IMAGE = """async () => {
    const cache = await caches.open("runtime");
    const named = async (name) => (await cache.keys()).filter(({ url }) => url.endsWith(`/${name}`));
    while (!(await named("memory.image")).length) await new Promise((go) => setTimeout(go, 50));
    for (const request of await named("code.zip")) await cache.delete(request);
}"""
"""Waits until there is an image of Python's memory, and takes away what is needed to begin without it."""
ANSWERS_HERE = """() => new Promise((does) => {
    const look = () => document.querySelector("p:has(button.primary) + p[role=status]") ? does() : setTimeout(look, 50);
    look();
})"""
"""Waits until the form is answered by the phone where the server is not there."""
FILL_IN = """(fields) => {
    const form = document.getElementById("plan-form");
    for (const [name, value] of Object.entries(JSON.parse(fields))) {
        const field = form.elements.namedItem(name);
        if (field.type === "text") field.value = value;
    }
    form.requestSubmit(form.querySelector("button.primary"));
}"""
IN_THE_LEG = """async (link) => {
    const modules = document.querySelector("script[src*='/js/']").src.split("/js/")[0];
    const { countTap, loadData, savePairData } = await import(`${modules}/js/pair/db.js`);
    const { exchange, fetchPair } = await import(`${modules}/js/pair/sync.js`);
    const { keepPlans } = await import(`${modules}/js/pair/whole-pair.js`);
    await savePairData(link, await fetchPair(link));
    await countTap(link, 1, "go", 40);
    while (await exchange(link));
    await keepPlans(link, await loadData(link));
}"""
COUNT_GAUGE = """() => {
    const counted = { stitches_1: 27, stitches_over_1: 10, rounds_1: 38, rounds_over_1: 10 };
    for (const [name, value] of Object.entries(counted))
        document.querySelector(`[name=${name}]`).value = value;
    document.getElementById("check-form").requestSubmit();
}"""
KNIT_LIKE_THIS = """() => {
    const button = document.querySelector("button[name=choice]");
    button.form.requestSubmit(button);
}"""
KEEP_THE_LEG = """() => {
    const form = document.querySelector("[name=option][value=rest]").form;
    form.requestSubmit(form.querySelector("button"));
}"""


@pytest.fixture(scope="module", params=BROWSERS)
def other(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[OtherBrowser]:
    """A window of a browser that knows nothing of the server of a test yet: each is another origin."""
    start, here = BROWSERS[request.param]
    if not here:
        pytest.skip(f"{request.param} is not installed; tests/run says which packages have it")
    with start(tmp_path_factory.mktemp("browser")) as window:
        yield window


def test_the_whole_way(other: OtherBrowser, own_server: Server) -> None:
    """What the tests in Chromium show one by one, in one go."""
    link = own_server.add_pair()
    other.goto(f"{own_server.address}/pair/{link}")
    other.goto(other.call("() => document.querySelector('a.primary').href"))
    other.shows("#progress", r"^0 of \d+$")
    other.count(3)
    other.shows("#progress", r"^3 of ")
    other.tap("#undo")
    other.shows("#progress", r"^2 of ")
    other.shows("#kept", r"^Kept and sent\.$")
    assert own_server.counted(link) == [1, 2, 3, 2]
    # WebKit's worker never takes over a page that was on its way when it became active, but one that is opened then.
    assert other.call(KEPT)
    other.reload()
    other.shows("#progress", r"^2 of ")
    assert other.call(CONTROLLED)

    own_server.kill()
    other.reload()
    other.shows("#progress", r"^2 of ")
    other.count(1)
    other.shows("#progress", r"^3 of ")
    other.shows("#menu", "Weigh the yarn")  # brought once the round is painted, with the sheets
    other.tap("#note-it")
    other.call("() => { document.querySelector('dialog textarea').value = 'Between two stations.' }")
    other.call("() => document.querySelector('dialog form').requestSubmit()")
    other.shows("#remark", "Between two stations")
    other.shows("#kept", "2 not yet sent. No network now")
    other.reload()
    other.shows("#progress", r"^3 of ")
    other.shows("#kept", "2 not yet sent")

    own_server.start()
    other.call("() => { dispatchEvent(new Event('online')) }")
    other.shows("#kept", r"^Kept and sent\.$", within=30)
    assert own_server.counted(link) == [1, 2, 3, 2, 3, 3]
    assert {entry.kind for entry in own_server.entries(link)} == {"count", "undo", "note"}


def answers_as_the_server_does(other: OtherBrowser, name: str, asked: dict[str, Any]) -> None:
    """Ask the Python of the page, which begins with the first question."""
    given = json.dumps(asked)
    other.call(ASK, name, given)
    other.comes_to("#answered", "^answered$", CALCULATED)
    assert json.loads(other.call("() => window.answer")) == json.loads(answer(name, given))


@pytest.mark.skipif(not installed(RUNTIME), reason=NOT_HERE)
def test_a_check_its_way_to_go_on_sock_two_and_a_new_pair_without_a_server(
    other: OtherBrowser, own_calculating: Server
) -> None:
    other.goto(f"{own_calculating.address}/")
    assert other.call(KEPT)
    other.reload()
    other.call(FETCH)
    begun = own_calculating.add_pair()
    other.call(IN_THE_LEG, begun)
    own_calculating.kill()

    other.goto(f"{own_calculating.address}/pair/{begun}/check?sock=1&round=40")
    other.shows("#check-place", "leg, round 22")
    answers_as_the_server_does(other, "page", checks(1)[0])  # by a Python that is begun anew
    other.call(ONLY_BY_IMAGE)
    other.call(COUNT_GAUGE)
    other.comes_to("#made-here", "Calculated on this phone", CALCULATED)
    other.call(KEEP_THE_LEG)
    other.comes_to("#plan-changed", "Keep the leg stitches", CALCULATED)
    other.goto(f"{own_calculating.address}/pair/{begun}/second")
    other.comes_to("#made-here", "Calculated on this phone", CALCULATED)
    answers_as_the_server_does(other, "form", new_plan({"other_ball": "24.5"}))  # by the one that began by the image
    other.call(KNIT_LIKE_THIS)
    other.comes_to("#what-was-done", "Sock two is knitted as you chose", CALCULATED)

    other.goto(f"{own_calculating.address}/plan")
    other.call(ANSWERS_HERE)
    other.call(FILL_IN, json.dumps(FORM))
    other.comes_to("#only-here", "Planned on this phone", CALCULATED)
    link = other.call("() => location.pathname.split('/')[2]")
    other.goto(other.call("() => document.querySelector('a.primary').href"))
    other.shows("#progress", r"^0 of \d+$")
    other.count(2)
    other.shows("#progress", r"^2 of ")

    own_calculating.start()
    other.call("() => { dispatchEvent(new Event('online')) }")
    other.shows("#kept", r"^Kept and sent\.$", within=90)
    assert own_calculating.counted(link) == [1, 2]
    other.call(ALL_TAKEN, begun)
    assert accepted(own_calculating, begun) == ["", "rest", "sock two knitted"]
