"""The plan form, answered where there is no server: with what is wrong, with stitch counts, or with a pair. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from ..forms.plan_form import PlanForm
from ..forms.plan_outcome import SENDS, choices_shown, form_shown, plan_outcome
from ..pair.knit_data import knit_data
from ..pair.new_pair import begun
from .pages import page_answer
from .rendering import templates

COUNTS, FORM = "forms/choices.html", "forms/plan_form.html"
"""Their templates."""


class Typed(dict[str, list[str]]):
    """What a form was sent with, as WTForms asks for it."""

    def __init__(self, fields: Iterable[tuple[str, str]]) -> None:
        super().__init__()
        for name, value in fields:
            self.setdefault(name, []).append(value)

    def getlist(self, name: str) -> list[str]:
        """All values of a field."""
        return self.get(name, [])


def counts_answer(fields: Iterable[tuple[str, str]]) -> str:
    """The stitch counts for a form as it stands, or what is still wrong with it, as HTML."""
    return templates(framed=True).get_template(COUNTS).render(choices_shown(PlanForm(Typed(fields))))


def form_answer(fields: Iterable[tuple[str, str]], link: str, moment: str, version: str) -> Mapping[str, Any]:
    """What a form leads to that was sent: a pair, or the form again with what is wrong.

    The pair is to be found by `link`, was planned at `moment` (ISO 8601), and is shown with the static files of a
    `version`. Of a pair there are `data` for the knit page, its `file` without a logbook, and the `plan`'s page; else
    there is the `form`, what stands in its page.
    """
    typed = Typed(fields)
    form = PlanForm(typed)
    outcome = plan_outcome(form)
    if outcome.plan is None:
        token = "".join(typed.getlist("csrf_token"))
        page = templates(framed=True).get_template(FORM)
        return {"form": page.render(form_shown(form, outcome), sends=SENDS, csrf_token=lambda: token)}
    file = begun(outcome.plan, outcome.other, form.shown_unit(), datetime.fromisoformat(moment))
    return {
        "data": knit_data(file.as_state(), "", "", 0, {}),
        "file": file.model_dump(mode="json"),
        "plan": page_answer("plan", file.as_text(), {"path": f"/pair/{link}", "version": version, "alone": True}),
    }
