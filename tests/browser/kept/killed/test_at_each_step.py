"""A phone killed at any write while it keeps a new pair, a check or a change, or sends them: none is half, or twice."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

from playwright.sync_api import BrowserContext, Page, Route

from companion.on_phone.answer import acceptance
from companion.on_phone.form_answer import form_answer

from ....conftest import NOON, fully
from ....on_phone.test_new_plan import LINK, new_plan
from ...chromium import PhoneOnDisk
from ...server import Server
from ...used_phone import PLAIN
from ..test_check_here import accepted

PLACE = 40
CHECK = {"stitches": [{"count": 27, "over_cm": 10}] * 4, "rounds": [{"count": 38, "over_cm": 10}] * 4}
CHECK_ID = "cccccccc-0000-4000-8000-000000000001"

STOPS = """([step, modules, module, job, given]) => {
    const stop = (what) => {
        const request = new XMLHttpRequest();
        request.open("GET", `/${what}`, false);
        request.send();
    };
    let left = step;
    for (const [kind, names] of [
        [IDBObjectStore, ["put", "add", "delete"]],
        [IDBTransaction, ["commit"]],
        [Cache, ["put", "delete"]],
    ]) {
        for (const name of names) {
            const before = kind.prototype[name];
            kind.prototype[name] = function (...args) {
                if (this.mode !== "readonly" && left-- === 0) stop("stopped");
                return before.apply(this, args);
            };
        }
    }
    setTimeout(async () => {
        await (await import(`${modules}/${module}.js`))[job](...given);
        stop("finished");
    });
}"""
"""Does a job, and stands still for good before the write of that number, from 0, or when the job is done."""

LIES_HERE = """async ([modules, link]) => {
    const { transact } = await import(`${modules}/pair/db.js`);
    const { answerTo } = await import(`${modules}/lib/idb.js`);
    return transact("readonly", async ({ pairs, data, log, meta }) => {
        const [record, rounds, entries, keys] = await Promise.all(
            [pairs.get(link), data.get(link), log.getAll(), meta.getAllKeys()].map(answerTo));
        const { opened, ...kept } = record ?? {};
        return {
            record: kept,
            revisions: rounds?.scripts.map(({ revision }) => revision) ?? [],
            log: entries.map(({ kind, round, sent }) => [kind, round, sent]).sort(),
            kept: keys.filter((key) => key !== "device").map((key) => [key].flat().join(" ")).sort(),
        };
    });
}"""
KNOWN = """async ([modules, link]) => {
    const { pairNow } = await import(`${modules}/phone/pair-now.js`);
    return pairNow(link);
}"""

FIRST, APART = (0, 1) if fully() else (3, 4)
"""The write, from 0, before which a phone is killed first, and how many there are to the next."""


class Dying:
    """A phone whose battery is flat at one write after the other."""

    def __init__(self, phone: PhoneOnDisk) -> None:
        self._phone = phone
        self.page = self._start()
        self.page.goto("/")
        address = self.page.evaluate("document.querySelector(\"script[src*='/static/']\").src")
        found = re.match(r".*/static/(\w+)/js", address)
        assert found
        self._modules, self.version = found[0], found[1]
        self.page.goto(PLAIN)

    def _start(self) -> Page:
        context: BrowserContext = self._phone.start()
        page = context.pages[0]
        page.route(re.compile("/(stopped|finished)$"), _silent)
        return page

    def call(self, script: str, *given: Any) -> Any:
        """What a script answers that imports modules."""
        return self.page.evaluate(script, [self._modules, *given])

    def here(self) -> Any:
        """What lies in the browser's database."""
        return self.call(LIES_HERE, LINK)

    def killed_in(self, module: str, job: str, *given: Any) -> Iterator[bool]:
        """Do a job again and again, killed some writes later each time, until it is done; says whether it was."""
        step, done = FIRST, False
        while not done:
            with self.page.expect_request(re.compile("/(stopped|finished)$")) as stopped:
                self.page.evaluate(STOPS, [step, self._modules, module, job, list(given)])
            done = stopped.value.url.endswith("finished")
            self._phone.kill()
            self.page = self._start()
            self.page.goto(PLAIN)
            yield done
            step += APART

    def whole_or_not_at_all(self, module: str, job: str, *given: Any) -> Any:
        """Do a job, killed at each write; returns what lies here in the end. In between there is nothing else."""
        before = self.here()
        found = [self.here() for _ in self.killed_in(module, job, *given)]
        assert found[-1] != before
        assert all(one in (before, found[-1]) for one in found)
        return found[-1]


def _silent(_: Route) -> None:
    """Whoever waits for this answer waits for good."""


def test_nothing_is_half_or_twice_wherever_it_is_killed(own_server: Server, on_disk: PhoneOnDisk) -> None:
    phone = Dying(on_disk)
    made = json.loads(json.dumps(form_answer(**{**new_plan({}), "version": phone.version})))

    found = phone.whole_or_not_at_all("phone/made-here", "keepMade", LINK, phone.version, made)
    assert found["record"]["made"]
    assert found["kept"] == [f"plans {LINK}  1"]
    for done in phone.killed_in("pair/db", "countTap", LINK, 1, "go", PLACE):
        assert phone.here()["record"]["round"]["1"] == (PLACE if done else 0)

    check = {"id": CHECK_ID, "sock": 1, "round": PLACE, "data": CHECK}
    found = phone.whole_or_not_at_all("pair/kept-check", "keepCheck", LINK, check)
    assert found["log"] == [["check", PLACE, 0], ["go", PLACE, 0]]
    assert f"check {LINK}" in found["kept"]

    known = phone.call(KNOWN, LINK)
    chosen = {"choice": "check", "key": "rest", "sock": 1, "done": PLACE}
    way = json.loads(json.dumps(acceptance(chosen, known["text"], NOON.isoformat())))
    found = phone.whole_or_not_at_all("pair/proposals", "propose", LINK, known["clock"], way)
    assert found["record"]["proposed"] == "waits"
    assert f"proposals {LINK}" in found["kept"]
    assert max(found["revisions"]) == 2

    # The server hears of everything, often more than once, and has it once.
    for _ in phone.killed_in("pair/sync", "exchange", LINK):
        pass
    found = phone.here()
    assert [name for name in ("made", "proposed") if name in found["record"]] == []
    assert {sent for _, _, sent in found["log"]} == {1}
    assert accepted(own_server, LINK) == ["", "rest"]
    assert [one.kind for one in own_server.entries(LINK)] == ["go", "check"]
    assert found["record"]["round"]["1"] == own_server.counted(LINK)[-1] == PLACE
