"""What a phone asks, and what it is answered: JSON in and out. Pure: it runs in a browser, too."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

from jinja2 import ChoiceLoader, DictLoader, Environment, FileSystemLoader

from ..pair.checking.check_result import CheckResult
from ..pair.checking.check_shown import shown
from ..pair.file import read_pair_file
from ..pair.logbook import Sock
from ..resources import TEMPLATES
from ..strict_json import read_json
from ..words import add_words
from .form_answer import counts_answer, form_answer

FRAME = {"lib/base.html": "{% block main %}{% endblock %}"}
"""The page is there already; only what stands in it is made."""


def check_answer(text: str, sock: Sock, done: int | None, path: str) -> str:
    """The content of the page of a check's result, as HTML.

    `text` is the file of a pair, `done` the rounds of the sock that are done (None: those of its logbook), and `path`
    the page's address. Raises ValueError where the file is not sound.
    """
    file, faults = read_pair_file(read_json(text.encode("utf-8", "surrogatepass")))
    if file is None:
        raise ValueError("; ".join(map(str, faults)))
    pair = file.as_state()
    position = pair.position(sock)
    if done is not None:
        position = replace(position, done=max(0, min(done, position.plan.count)))
    templates = Environment(loader=ChoiceLoader([DictLoader(FRAME), FileSystemLoader(TEMPLATES)]), autoescape=True)
    add_words(templates)
    page = shown(CheckResult(pair, position), pair.unit)
    request = SimpleNamespace(path=path)
    return templates.get_template("pair/check_result.html").render(page, request=request, csrf_token=str)


ANSWERS: Mapping[str, Callable[..., Any]] = {"check": check_answer, "counts": counts_answer, "form": form_answer}
"""By the name that the phone asks with; each is given the fields of the question."""


def answer(name: str, question: str) -> str:
    """The answer to a question, both as JSON text. Raises ValueError where the question has no answer."""
    return json.dumps(ANSWERS[name](**json.loads(question)))
