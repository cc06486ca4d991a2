"""How fields are written as HTML where a page has many of them: as WTForms does it, in a fraction of its time."""

from __future__ import annotations

from typing import Any

import wtforms.widgets
from markupsafe import Markup, escape


def _attributes(**given: Any) -> str:
    """The attributes of an element, by their names as HTML has them: `class`, `data-cm`."""
    written = {name: str(escape(value)).replace('"', "&quot;") for name, value in given.items() if value is not False}
    return " ".join(name if given[name] is True else f'{name}="{written[name]}"' for name in sorted(written))


class TextInput(wtforms.widgets.TextInput):
    """A field for text."""

    html_params = staticmethod(_attributes)


class Select(wtforms.widgets.Select):
    """A choice of many."""

    @classmethod
    def render_option(cls, choice: Any, **others: Any) -> Markup:  # type: ignore[override] # the stubs are older
        """One of them."""
        given = {"value": choice.value, **(choice.render_kw or {}), **others, "selected": choice.selected}
        return Markup(f"<option {_attributes(**given)}>{escape(choice.label or choice.value)}</option>")
