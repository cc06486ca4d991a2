"""Words as every page writes them, with a server and without one. Pure.

How a message is written, which `tests/test_messages.py` reads for:

1.  It speaks to a knitter with wool in her hands, at work on a sock and not on a program.
2.  It is whole sentences: a capital or what she typed first, a stop last. `sentence` makes one of a fragment.
3.  It says what was given, what is allowed, and what to do, in this order; what is obvious is left out.
4.  What she typed stands in “ ” as she typed it.
5.  A place is named as on the page (“Ball of the foot”), never as in the code (foot.ball_circumference_cm).
6.  A place in a sock is sock, part, round: “sock 2, leg, round 8”. Where there is none, say what that means.
7.  A range is “4 to 400 cm”: the least, the greatest, the unit once, in the unit that she chose.
8.  Numbers are rounded to what a hand can knit or a tape can show.
9.  No codes, no names of types, no empty values of a language, no brackets of any kind.
10. The trade's words: stitch, round, row, gauge, ease. Our own are few: tape, plan, logbook, place.
11. At most three short sentences; the first can stand alone.
12. A button is named by its words: “Open it again from the knit page.”
13. Who is to blame is not asked. Say what happened, and that nothing is lost, where that is so.
14. What cannot be undone is said before it is done; what can be undone is done, and the way back is offered.
15. What was done is answered by one line: what happened, and how to undo it (`companion/web/what_was_done.py`).
16. Where a sock can hurt, the caution comes with the message and defers to a professional.
17. Screen readers hear the same words: nothing that matters is in a colour, a place or a sign alone.
18. Only commands, whose reader edits a file, name the entry of the file beside the name that it has on the form.
"""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING, Any

from jinja2 import pass_context
from markupsafe import Markup

from .planning.units import (
    both_needle_sizes,
    both_weights,
    both_yardages,
    both_yarn_lengths,
    in_one_unit,
    show_length,
    show_number,
)

if TYPE_CHECKING:
    from jinja2 import Environment
    from jinja2.runtime import Context

_INSIDE_A_LENGTH = re.compile(r"(?<=\d) (?=\d/\d|cm\b|in\b|mm\b|m\b|g\b|oz\b|yd\b|%)")


def day_words(day: date) -> str:
    """A day with its weekday and its year, the same in every browser: "Sun 6 Dec 2026".

    The scripts of the pages write it in the same way (`static/js/lib/days.js`).
    """
    return f"{day:%a} {day.day} {day:%b} {day.year}"


def unbroken(sentence: str) -> str:
    """A sentence whose lengths, weights and parts stay on one line: no-break spaces in "7 1/2 in", "8 g", "10 %"."""
    return _INSIDE_A_LENGTH.sub("\u00a0", sentence)


def inside(sentence: str) -> str:
    """A title as it stands inside a sentence: with a small first letter."""
    return sentence[:1].lower() + sentence[1:]


@pass_context
def in_unit_of_page(context: Context, value: Any) -> Any:
    """What a template writes, in the unit that its page is in; a page that names none leaves both."""
    if isinstance(value, Markup) or not isinstance(value, str):
        return value
    unit = context.get("unit")
    return in_one_unit(value, unit) if unit else value


def sentence(words: str) -> str:
    """Words as a whole sentence: with a capital and a stop. Those of a `Fault` are often the end of one."""
    words = words.strip()
    if not words:
        return ""
    return f"{words[0].upper()}{words[1:]}" + ("" if words.endswith((".", "!", "?", ".”")) else ".")


def add_words(templates: Environment) -> None:
    """Give templates these words and those for lengths, and put what they write in the unit of the page."""
    templates.globals.update(
        show_length=show_length,
        show_number=show_number,
        day_words=day_words,
        both_needle_sizes=both_needle_sizes,
        both_weights=both_weights,
        both_yardages=both_yardages,
        both_yarn_lengths=both_yarn_lengths,
    )
    templates.filters.update(unbroken=unbroken, inside=inside, sentence=lambda words: unbroken(sentence(words)))
    templates.finalize = in_unit_of_page
