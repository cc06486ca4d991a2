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
from ...on_phone import RUNTIME
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

SENT_AGAIN = 90
"""Seconds within which a page has tried again to send what could not be sent: it does so a minute later at most."""

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
READ_ON = """(link) => {
    const modules = document.querySelector("script[src*='/js/']").src.split("/js/")[0];
    return import(`${modules}/js/pair/db.js`).then(({ transact }) => new Promise((begun) => {
        const ask = async ({ pairs }) => {
            for (;;) await new Promise((next) => (pairs.get(link).onsuccess = () => next(begun(true))));
        };
        transact("readonly", ask).catch(() => undefined);
    }));
}"""
"""Reads and reads, until somebody stops it."""
LEAVE = "() => { document.documentElement.dataset.left = '' }"
"""Tells a page from the same one that is loaded anew."""
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


@pytest.fixture(params=BROWSERS)
def other(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[OtherBrowser]:
    """A window of a browser that knows nothing yet."""
    start, here = BROWSERS[request.param]
    if not here:
        pytest.skip(f"{request.param} is not installed; tests/run says which packages have it")
    with start(tmp_path) as window:
        yield window


def counts_and_sends(other: OtherBrowser, server: Server) -> str:
    """A pair that is knitted by three rounds, of which one is taken back; returns its link. The browser keeps it."""
    link = server.add_pair()
    other.goto(f"{server.address}/pair/{link}")
    other.goto(other.call("() => document.querySelector('a.primary').href"))
    other.shows("#progress", r"^0 of \d+$")
    other.count(3)
    other.shows("#progress", r"^3 of ")
    other.tap("#undo")
    other.shows("#progress", r"^2 of ")
    other.shows("#kept", r"^Kept and sent\.$")
    assert server.counted(link) == [1, 2, 3, 2]
    # WebKit's worker never takes over a page that was on its way when it became active, but one that is opened then.
    assert other.call(KEPT)
    other.reload()
    other.shows("#progress", r"^2 of ")
    assert other.call(CONTROLLED)
    return link


def is_left_while_it_reads(other: OtherBrowser, pair: str) -> None:
    """A browser that keeps the page for the way back lets other pages write, and that one when it is shown again."""
    other.call(READ_ON, pair.rpartition("/")[2])
    other.call(LEAVE)
    other.goto(pair)
    other.goto(f"{pair}/knit")
    other.shows("#progress", r"^2 of ")
    other.count(1)
    other.shows("#progress", r"^3 of ")
    other.call(LEAVE)
    other.call("() => { history.go(-2) }")
    other.comes_to("html:not([data-left]) #progress", r"^3 of ", 20)
    other.tap("#undo")
    other.shows("#progress", r"^2 of ")
    other.shows("#kept", r"^Kept and sent\.$")


def goes_on_without_a_server(other: OtherBrowser) -> None:
    """Another round and a note, on the same page, which is opened again before and after."""
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


def answers_as_the_server_does(other: OtherBrowser, name: str, asked: dict[str, Any]) -> None:
    """Ask the Python of the page, which begins with the first question."""
    given = json.dumps(asked)
    other.call(ASK, name, given)
    other.comes_to("#answered", "^answered$", CALCULATED)
    assert json.loads(other.call("() => window.answer")) == json.loads(answer(name, given))


def changes_its_plan_by_itself(other: OtherBrowser, pair: str) -> None:
    """A check of the pair at this address, its way to go on, and sock two."""
    other.goto(f"{pair}/check?sock=1&round=40")
    other.shows("#check-place", "leg, round 22")
    answers_as_the_server_does(other, "page", checks(1)[0])  # by a Python that is begun anew
    other.call(ONLY_BY_IMAGE)
    other.call(COUNT_GAUGE)
    other.comes_to("#made-here", "Calculated on this phone", CALCULATED)
    other.call(KEEP_THE_LEG)
    other.comes_to("#plan-changed", "Keep the leg stitches", CALCULATED)
    other.goto(f"{pair}/second")
    other.comes_to("#made-here", "Calculated on this phone", CALCULATED)
    answers_as_the_server_does(other, "form", new_plan({"other_ball": "24.5"}))  # by the one that began by the image
    other.call(KNIT_LIKE_THIS)
    other.comes_to("#what-was-done", "Sock two is knitted as you chose", CALCULATED)


def plans_by_itself(other: OtherBrowser, server: Server) -> str:
    """A new pair, with two rounds counted; returns its link. Its knit page stays open."""
    other.goto(f"{server.address}/plan")
    other.call(ANSWERS_HERE)
    other.call(FILL_IN, json.dumps(FORM))
    other.comes_to("#only-here", "Planned on this phone", CALCULATED)
    link: str = other.call("() => location.pathname.split('/')[2]")
    other.goto(other.call("() => document.querySelector('a.primary').href"))
    other.shows("#progress", r"^0 of \d+$")
    other.count(2)
    other.shows("#progress", r"^2 of ")
    return link


def test_the_whole_way(other: OtherBrowser, killable: Server) -> None:
    """What the tests in Chromium show one by one, in one go. It calculates where the Python for browsers is here."""
    calculates = installed(RUNTIME)
    link = counts_and_sends(other, killable)
    is_left_while_it_reads(other, f"{killable.address}/pair/{link}")
    begun = killable.add_pair()
    if calculates:
        other.call(FETCH)
        other.call(IN_THE_LEG, begun)
    killable.kill()
    goes_on_without_a_server(other)
    if calculates:
        changes_its_plan_by_itself(other, f"{killable.address}/pair/{begun}")
        planned = plans_by_itself(other, killable)

    killable.start()
    other.call("() => { dispatchEvent(new Event('online')) }")
    other.comes_to("#kept", r"^Kept and sent\.$", SENT_AGAIN)
    if calculates:
        assert killable.counted(planned) == [1, 2]
        other.agrees(ALL_TAKEN, begun, SENT_AGAIN)
        assert accepted(killable, begun) == ["", "rest", "sock two knitted"]
    other.goto(f"{killable.address}/pair/{link}/knit")
    other.shows("#kept", r"^Kept and sent\.$", within=30)
    assert killable.counted(link) == [1, 2, 3, 2, 3, 2, 3, 3]
    assert {entry.kind for entry in killable.entries(link)} == {"count", "undo", "note"}
