"""Fields are written as WTForms writes them (wtforms 3.3, `wtforms.widgets`)."""

from __future__ import annotations

from typing import Any

import pytest
import wtforms.widgets
from markupsafe import Markup
from wtforms import Form, SelectField, StringField

from companion.forms.widgets import Select, TextInput

HARD = """"Larch" & 'moss' <b>"""
CHOICES: list[Any] = ["Larch", HARD, "moss"]


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"class": "input", "data-cm": HARD},
        {"list": Markup('"&amp;')},
        {"id": False},
        {"readonly": True},
        {"size": 3},
    ],
)
def test_text_with_whatever_attributes_is_written_the_same(more: dict[str, Any]) -> None:
    class Texts(Form):
        ours = StringField(widget=TextInput(), default=HARD)
        theirs = StringField(default=HARD)

    form = Texts()
    assert form.ours(**more) == form.theirs(**more).replace("theirs", "ours")


def test_what_can_be_chosen_is_written_the_same() -> None:
    class Choices(Form):
        choices = SelectField(choices=CHOICES, default=HARD)

    form = Choices()
    assert Select()(form.choices) == wtforms.widgets.Select()(form.choices)
    assert "selected" in Select()(form.choices)
