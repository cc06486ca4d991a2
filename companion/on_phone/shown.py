"""The templates of what a phone shows by itself. Pure."""

from __future__ import annotations

from functools import cache

from jinja2 import ChoiceLoader, DictLoader, Environment, FileSystemLoader

from ..resources import TEMPLATES
from ..words import add_words

FRAME = {"lib/base.html": "{% block main %}{% endblock %}"}
"""The page is there already; only what stands in it is made."""


@cache
def templates(framed: bool) -> Environment:
    """The templates, of what stands in a page that is there or else of whole pages.

    Made once: to compile them takes several times as long as to fill them in.
    """
    loaders = [*([DictLoader(FRAME)] if framed else []), FileSystemLoader(TEMPLATES)]
    made = Environment(loader=ChoiceLoader(loaders), autoescape=True)
    add_words(made)
    return made
