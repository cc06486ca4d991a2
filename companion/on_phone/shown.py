"""The templates of what a phone shows by itself. Pure."""

from __future__ import annotations

from functools import cache

from jinja2 import ChoiceLoader, DictLoader, Environment, FileSystemLoader

from ..resources import TEMPLATES
from ..words import add_words

SHOWN = (
    *("lib/base.html", "lib/changes.html", "lib/cautions.html", "lib/fields.html", "lib/fold.html", "lib/look.html"),
    *("pair/check_result.html", "pair/second.html", "pair/ruler.html", "pair/plan.html", "pair/drawing.html"),
    *("pair/counts.html", "pair/fit.html", "forms/plan_form.html", "forms/body.html", "forms/choices.html"),
    *("forms/colour.html", "forms/construction.html", "forms/feet.html", "forms/foot.html"),
    *("forms/from_shoe.html", "forms/gauges.html", "forms/keep_foot.html", "forms/pictures.html"),
)
"""The templates of what is calculated there."""

FRAME = {"lib/base.html": "{% block main %}{% endblock %}"}
"""The page is there already; only what stands in it is made."""


@cache
def templates(*, framed: bool) -> Environment:
    """The templates, of what stands in a page that is there or else of whole pages.

    Made once: to compile them takes several times as long as to fill them in.
    """
    loaders = [*([DictLoader(FRAME)] if framed else []), FileSystemLoader(TEMPLATES)]
    made = Environment(loader=ChoiceLoader(loaders), autoescape=True, auto_reload=False)
    add_words(made)
    return made


def compile_all() -> None:
    """Have all of them in memory, so that no file of theirs is read any more."""
    for framed in (True, False):
        for name in SHOWN:
            templates(framed=framed).get_template(name)
