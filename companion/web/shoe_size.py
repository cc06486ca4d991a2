"""The plan form's help for a foot that cannot be measured: a guess from its shoe size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from ..planning.shoe_sizes import System, guess_words, usual_foot
from ..planning.units import parse_number
from .forms import errors_of, to_typed
from .plan_form import PlanForm


@dataclass(frozen=True)
class Guess:
    """What a shoe size puts into the fields of the form, and what is said of it."""

    fields: dict[str, str]
    words: str


def guess_of(form: PlanForm) -> Guess | None:
    """The guess from the shoe size in the form; None with a sentence at its field when it is none."""
    system: System = form.shoe_system.data if form.shoe_system.data in get_args(System) else "EU"
    unit = form.shown_unit()
    try:
        size = parse_number(form.shoe_size.data or "")
        foot = usual_foot(system, size)
    except ValueError as error:
        errors_of(form.shoe_size).append(str(error))
        return None
    middles = {"ball_circumference": foot.ball.middle, "foot_length": foot.length.middle}
    fields = {name: to_typed(cm, "length", unit) for name, cm in middles.items()}
    return Guess(fields, guess_words(system, size, unit))


def fill_in(form: PlanForm) -> None:
    """Put the guess into the form."""
    guess = guess_of(form)
    for name, value in (guess.fields if guess else {}).items():
        form[name].data = value


def guess_in_force(form: PlanForm) -> str:
    """What is said of the guess while the form still stands on it; empty once something else was typed."""
    if not form.shoe_size.data or form.shoe_size.errors:
        return ""
    guess = guess_of(form)
    stands = guess and all(form[name].data == value for name, value in guess.fields.items())
    return guess.words if guess and stands else ""
