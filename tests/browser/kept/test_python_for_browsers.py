"""The Python for browsers answers as the server does, to the last digit, or the server would ask about its plans."""

from __future__ import annotations

import json
from random import Random
from typing import Any

import pytest
from playwright.sync_api import Page

from companion.on_phone.answer import answer
from companion.on_phone.runtime import installed

from ...conftest import NOON, fully
from ...on_phone import NOT_HERE, RUNTIME
from ...on_phone.test_new_plan import FORMS, WRONG, new_plan
from ...on_phone.test_same_answer import checks
from ...planning.requests import EVERY_CONSTRUCTION

WAYS = (("check", "rest"), ("check", "here"), ("yarn", "30"))
"""Each with the page on which it is chosen. A leg of so many rounds is allowed where fewer are knitted."""
OTHERS = ("yarn", "pattern", "logbook", "plan")

ASK = """async ([name, question]) => {
    const modules = document.querySelector("script[src*='/js/']").src.split("/js/")[0];
    const { ask } = await import(`${modules}/js/phone/planning.js`);
    return ask(name, JSON.parse(question)).then(JSON.stringify, () => "null");
}"""
"""The answer as JSON, null where there is none. The page begins Python for the first, and asks the same one for all."""

Asked = tuple[str, dict[str, Any]]
"""The name of an answer (companion/on_phone/answer.py), and its fields."""


def asked_with(check: dict[str, Any], others: tuple[str, ...]) -> list[Asked]:
    """What a check means, other pages of the pair, and then some ways accepted."""
    text, at = check["text"], check["address"]
    pages = [{**check, "page": page} for page in ("check", *others)]
    chosen = [
        {"choice": choice, "key": key, "sock": at["sock"] if choice == "check" else 1, "done": at["done"]}
        for choice, key in WAYS
    ]
    ways = [{"chosen": one, "text": text, "moment": NOON.isoformat()} for one in chosen]
    return [*(("page", one) for one in pages), *(("accept", one) for one in ways)]


def some_form(random: Random) -> dict[str, str]:
    """A foot from a child's to a big one, in either unit, with any construction."""
    unit, ball, stitches = random.choice(["cm", "in"]), random.uniform(14, 28), random.uniform(14, 48)
    length, lengths = ball * random.uniform(1.0, 1.15), 1 if unit == "cm" else 2.54
    return {
        "unit": unit,
        "typed_unit": unit,
        "ball_circumference": f"{ball / lengths:.2f}",
        "foot_length": f"{length / lengths:.2f}",
        "stitches": f"{stitches:.1f}",
        "rounds": f"{stitches * 1.4:.1f}",
        "cuff_length": "1.5",
        "leg_length": "5",
        **{name: str(word) for name, word in random.choice(EVERY_CONSTRUCTION).items()},
    }


def on_server(name: str, question: dict[str, Any]) -> Any:
    """The same answer without a phone; None where there is none."""
    try:
        return json.loads(answer(name, json.dumps(question)))
    except ValueError:
        return None


@pytest.mark.skipif(not installed(RUNTIME), reason=NOT_HERE)
def test_it_checks_and_plans_as_the_servers_does(prepared: Page) -> None:
    """In full 500 recalculations and 500 plans, or what is wrong with them.

    That takes an hour or two: `--hypothesis-profile=full -o faulthandler_timeout=0`. Of every construction, at any
    place, in either unit. By default a pair has one of its other pages, each in turn.
    """
    random, number = Random(4711), 500 if fully() else len(OTHERS)
    forms = [some_form(random) for _ in range(number)] if fully() else [*FORMS.values(), *WRONG.values()]
    others = [OTHERS if fully() else (OTHERS[turn],) for turn in range(number)]
    asked = [one for check, pages in zip(checks(number), others, strict=True) for one in asked_with(check, pages)]
    asked += [("form", new_plan(changes)) for changes in forms]
    prepared.goto("/")
    found = [json.loads(prepared.evaluate(ASK, [name, json.dumps(question)])) for name, question in asked]
    assert [one for one, here in zip(asked, found, strict=True) if here != on_server(*one)] == []
    of = {kind: [here for (name, _), here in zip(asked, found, strict=True) if name == kind] for kind, _ in asked}
    assert sum("<article" in here for here in of["page"]) > number / 2
    assert sum(here is not None for here in of["accept"]) > number / 2
    assert sum("data" in here for here in of["form"]) > len(forms) / 2
