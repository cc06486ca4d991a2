"""The plan form, answered where there is no server: with what is wrong, with stitch counts, or with a pair. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime
from types import SimpleNamespace
from typing import Any

from markupsafe import Markup

from ..forms.plan_form import PlanForm
from ..forms.planned import SENDS, choices_shown, form_shown, planned
from ..pair.file import PairFile
from ..pair.knit_data import knit_data
from ..pair.new_pair import begun
from ..pair.plan_shown import pair_plan_shown
from .shown import templates


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
    return templates(framed=True).get_template("forms/choices.html").render(choices_shown(PlanForm(Typed(fields))))


def form_answer(fields: Iterable[tuple[str, str]], link: str, moment: str, version: str) -> Mapping[str, Any]:
    """What a form leads to that was sent: a pair, or the form again with what is wrong.

    The pair is to be found by `link`, was planned at `moment` (ISO 8601), and is shown with the static files of a
    `version`. Of a pair there are `data` for the knit page, its `file` without a logbook, and the `plan`'s page; else
    there is the `form`, what stands in its page.
    """
    typed = Typed(fields)
    form = PlanForm(typed)
    outcome = planned(form)
    if outcome.plan is None:
        token = "".join(typed.getlist("csrf_token"))
        page = templates(framed=True).get_template("forms/plan_form.html")
        return {"form": page.render(form_shown(form, outcome), sends=SENDS, csrf_token=lambda: token)}
    file = begun(outcome.plan, outcome.other, form.shown_unit(), datetime.fromisoformat(moment))
    return {
        "data": knit_data(file.as_state(), "", "", 0, {}),
        "file": file.model_dump(mode="json"),
        "plan": _plan_page(file, link, version),
    }


def _plan_page(file: PairFile, link: str, version: str) -> str:
    """The page of the plan, whole, as it is kept for times without network."""

    def static_url(path: str) -> str:
        return f"/static/{version}/{path}"

    def stylesheets(*names: str) -> Markup:
        sheet = Markup('<link rel="stylesheet" href="{}">')
        return Markup("\n").join(sheet.format(static_url(f"css/{name}.css")) for name in names)

    page = templates(framed=False).get_template("pair/plan.html")
    return page.render(
        pair_plan_shown(file.as_state(), file.unit, 0),
        link=link,
        knit_url=f"/pair/{link}/knit",
        logbook_url=f"/pair/{link}/logbook",
        only_here=True,
        static_url=static_url,
        stylesheets=stylesheets,
        csrf_token=str,
        request=SimpleNamespace(args={}),
    )
