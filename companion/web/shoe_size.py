"""The forms' help for a foot that cannot be measured: a guess from its shoe size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, get_args

from wtforms import SelectField

from ..planning.request import ShoeSize, ShoeSystem
from ..planning.shoe_sizes import guess_words, usual_foot
from ..planning.units import Unit, parse_number
from .forms import UnitForm, changed_unit, errors_of, to_typed, typed

ENTRIES = {"ball_circumference": "ball_circumference_cm", "foot_length": "length_cm"}
"""The fields that a shoe size fills in, and their entries of the plan request."""


@dataclass(frozen=True)
class Guess:
    """What a shoe size puts into the fields of the form, how that reads there once it was turned to the other unit and
    back, and what is said of it."""

    system: ShoeSystem
    size: float
    fields: dict[str, str]
    turned: dict[str, str]
    words: str

    def standing(self, form: ShoeFields) -> list[str]:
        """The fields in which the guess still stands."""
        return [name for name in self.fields if form[name].data in (self.fields[name], self.turned[name])]


class ShoeFields(UnitForm):
    """A shoe size to start from. What it was filled in from is told to the planning while it stands."""

    shoe_system = SelectField("Shoe sizes", choices=get_args(ShoeSystem), validate_choice=False)
    shoe_size = typed("Shoe size")

    def shoe_data(self) -> dict[str, Any]:
        """The entry of the plan request for the foot; empty where nothing of a guess stands in the form."""
        try:
            guess = _guess(self)
        except ValueError:
            return {}
        stands = [ENTRIES[name] for name in guess.standing(self)]
        return {"shoe_size": {"system": guess.system, "size": guess.size, "guessed": stands}} if stands else {}


def _guess(form: ShoeFields) -> Guess:
    """Raises ValueError with a sentence for the knitter when the size in the form is none."""
    system: ShoeSystem = form.shoe_system.data if form.shoe_system.data in get_args(ShoeSystem) else "EU"
    unit = form.shown_unit()
    other: Unit = "cm" if unit == "in" else "in"
    size = parse_number(form.shoe_size.data or "")
    foot = usual_foot(system, size)
    middles = {"ball_circumference": foot.ball.middle, "foot_length": foot.length.middle}
    fields = {name: to_typed(cm, "length", unit) for name, cm in middles.items()}
    turned = {name: changed_unit(to_typed(cm, "length", other), "length", other, unit) for name, cm in middles.items()}
    return Guess(system, size, fields, turned, guess_words(system, size, unit))


def guess_of(form: ShoeFields) -> Guess | None:
    """The guess from the shoe size in the form; None with a sentence at its field when it is none."""
    try:
        return _guess(form)
    except ValueError as error:
        errors_of(form.shoe_size).append(str(error))
        return None


def fill_in(form: ShoeFields) -> None:
    """Put the guess into the form."""
    guess = guess_of(form)
    for name, value in (guess.fields if guess else {}).items():
        form[name].data = value


def guess_in_force(form: ShoeFields) -> str:
    """What is said of the guess while the form still stands on it; empty once something else was typed."""
    if not form.shoe_size.data or form.shoe_size.errors:
        return ""
    guess = guess_of(form)
    return guess.words if guess and len(guess.standing(form)) == len(guess.fields) else ""


def shoe_values(shoe: ShoeSize | None) -> dict[str, str]:
    """What stands in the fields for a foot that may have been guessed from a shoe size."""
    return {"shoe_system": shoe.system, "shoe_size": f"{shoe.size:g}"} if shoe else {}
