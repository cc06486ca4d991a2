"""The entries of a request or a design as a knitter calls them, for what is said of a file that has them wrong."""

from __future__ import annotations

import re
from collections.abc import Mapping

from ..planning import Fault

ENTRY_NAMES = {
    "title": "Name of the pair",
    "foot.ball_circumference_cm": "Ball of the foot",
    "foot.length_cm": "Foot length",
    "foot.ankle_circumference_cm": "Round the ankle",
    "foot.heel_diagonal_cm": "Heel diagonal",
    "foot.leg_circumference_cm": "Round the leg",
    "foot.shoe_size.system": "Shoe sizes",
    "foot.shoe_size.size": "Shoe size",
    "foot.shoe_size.guessed": "What the shoe size stands in for",
    "other_foot.ball_circumference_cm": "Ball of the other foot",
    "other_foot.length_cm": "Length of the other foot",
    "other_foot.ankle_circumference_cm": "Round the other ankle",
    "other_foot.heel_diagonal_cm": "Heel diagonal of the other foot",
    "other_foot.leg_circumference_cm": "Round the other leg",
    "gauge.stitches_per_10cm": "Stitches",
    "gauge.rounds_per_10cm": "Rounds",
    "gauge.basis": "Counted on",
    "ease.circumference_percent": "Smaller than the foot, in percent",
    "ease.length_cm": "Shorter than the foot",
    "construction.direction": "Direction",
    "construction.heel": "Heel",
    "construction.toe": "Toe",
    "construction.turn": "Heel turn",
    "construction.flap": "Back of the heel",
    "construction.garter_edge": "Garter edge",
    "construction.short_rows": "Short rows",
    "construction.sole": "Sole",
    "construction.sole_from_heel": "From the heel on",
    "construction.toe_start": "Cast-on of the toe",
    "construction.rounds_between": "Rounds between the halves of the heel",
    "cuff.rib": "Ribbing",
    "cuff.length_cm": "Cuff",
    "cuff.edge": "Edge of the cuff",
    "leg.length_cm": "Leg below the cuff",
    "leg.until": "The leg goes on",
    "leg.chart.width": "Width of the chart",
    "leg.chart.rows": "Chart",
    "leg.chart.swap": "The second sock exchanges yarns A and B",
    "leg.stitch_pattern.name": "Name of the stitch pattern",
    "leg.stitch_pattern.rows": "Stitch pattern",
    "leg.stitch_pattern.placement.on": "Where the pattern lies",
    "leg.stitch_pattern.placement.repeats": "Repeats of the panel",
    "leg.stitch_pattern.placement.beside": "Beside the panel",
    "leg.stitch_pattern.ends_before_toe_cm": "Ends before the toe",
    "leg.stitch_pattern.stitches_per_10cm": "Stitches in pattern",
    "leg.stitch_pattern.rounds_per_10cm": "Rounds in pattern",
    "foot_pattern": "Top of the foot",
    "parts.cuff": "Yarn of the cuff",
    "parts.heel": "Yarn of the heel",
    "parts.toe": "Yarn of the toe",
    "reinforcing_thread.heel": "Reinforcing thread in the heel",
    "reinforcing_thread.toe": "Reinforcing thread in the toe",
    "reinforcing_thread.metres_per_100g": "Length of the thread",
    "yarns.key": "Letter",
    "yarns.name": "Yarn",
    "yarns.metres_per_100g": "Yardage",
    "yarns.grams": "Yarn at hand",
    "yarns.colour_repeat_metres": "Colour repeat",
    "yarns.nylon_percent": "Nylon in percent",
    "yarns.colour": "Colour on the screen",
    "needles.arrangement": "Needles",
    "needles.size_mm": "Needle size in mm",
    "needles.two_at_a_time": "Two at a time",
    "notes": "Note",
    "own": "Left to each follower",
    "leader": "Your name",
    "welcome": "A word to those who join",
    "numbers_hidden": "Show numbers only in a plan",
    "hidden_until": "Kept secret until a day",
    "time_zone": "Time zone",
    "stages.name": "Name of the stage",
    "stages.sock": "Sock of the stage",
    "stages.until": "Done with",
    "stages.by": "By",
}
"""As the forms call them, by their dotted names without the numbers of a list."""


NAMES_OF_DESIGN = ENTRY_NAMES | {"title": "Name of the design"}


def described(fault: Fault, names: Mapping[str, str] = ENTRY_NAMES) -> str:
    """A fault of a file in one line: what a knitter calls the entry, where it is in the file, and what is wrong."""
    place = re.sub(r"\.\d+\b", "", fault.where).replace("constructions.", "construction.")
    while place and place not in names:
        place = place.rpartition(".")[0]
    return f"{names[place]}, {fault}" if place else str(fault)
