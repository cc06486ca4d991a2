"""The forms' help for a foot that cannot be measured: a guess from its shoe size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, get_args

from wtforms import SelectField

from ..planning.fit.shoe_sizes import guess_words, usual_foot
from ..planning.request.foot import ShoeSize, ShoeSystem
from ..planning.units import Unit, parse_number
from .base import UnitForm, refuse
from .typed_fields import changed_unit, to_typed, typed

ENTRIES = {"ball_circumference": "ball_circumference_cm", "foot_length": "length_cm"}
"""The fields that a shoe size fills in, and their entries of the plan request."""


@dataclass(frozen=True)
class Guess:
    """What a shoe size puts into the fields of the form and into a plan request, and what is said of it."""

    fields: dict[str, str]
    entry: dict[str, Any]
    words: str


class ShoeFields(UnitForm):
    """A shoe size to start from. What it was filled in from is passed to the planning while it stands."""

    shoe_system = SelectField("Shoe sizes", choices=get_args(ShoeSystem), validate_choice=False)
    shoe_size = typed("Shoe size")

    def shoe_data(self) -> dict[str, Any]:
        """The entry of the plan request for the foot; empty where nothing of a guess stands in the form."""
        try:
            guess = _guess(self)
        except ValueError:
            return {}
        return {"shoe_size": guess.entry} if guess.entry["guessed"] else {}


def _guess(form: ShoeFields) -> Guess:
    """Raises ValueError with a sentence for the knitter when the size in the form is not one."""
    system: ShoeSystem = form.shoe_system.data if form.shoe_system.data in get_args(ShoeSystem) else "EU"
    unit = form.shown_unit()
    size = parse_number(form.shoe_size.data or "")
    foot = usual_foot(system, size)
    middles = {"ball_circumference": foot.ball.middle, "foot_length": foot.length.middle}
    fields = {name: to_typed(cm, "length", unit) for name, cm in middles.items()}
    standing = [ENTRIES[name] for name, cm in middles.items() if form[name].data in _readings(cm, unit)]
    return Guess(fields, {"system": system, "size": size, "guessed": standing}, guess_words(system, size, unit))


def _readings(cm: float, unit: Unit) -> list[str]:
    """How a length may read: filled in as it is, or in the other unit and turned to this one."""
    return [changed_unit(to_typed(cm, "length", other), "length", other, unit) for other in get_args(Unit)]


def guess_of(form: ShoeFields) -> Guess | None:
    """The guess from the shoe size in the form; None with a sentence at its field when it is not one."""
    try:
        return _guess(form)
    except ValueError as error:
        refuse(form.shoe_size, str(error))
        return None


def fill_in(form: ShoeFields) -> None:
    """Put the guess into the form."""
    guess = guess_of(form)
    for name, value in (guess.fields if guess else {}).items():
        form[name].data = value


def guess_in_force(form: ShoeFields) -> str:
    """What is said of the guess while the form still stands on it; empty once something else was typed."""
    guess = guess_of(form) if form.shoe_size.data and not form.shoe_size.errors else None
    return guess.words if guess and len(guess.entry["guessed"]) == len(guess.fields) else ""


def shoe_values(shoe: ShoeSize | None) -> dict[str, str]:
    """What stands in the fields for a foot that may have been guessed from a shoe size."""
    return {"shoe_system": shoe.system, "shoe_size": f"{shoe.size:g}"} if shoe else {}
