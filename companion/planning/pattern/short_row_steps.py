"""The turns of short rows as steps to follow, where each is new."""

from __future__ import annotations

from ..plan.document import Op, Round
from ..stitches.operations import OpName

_TURNED: dict[OpName, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "wrap": (
        (
            "Slip the next stitch purlwise to the right needle.",
            "Bring the yarn between the needles to the front.",
            "Slip the stitch back to the left needle, take the yarn to the back, and turn.",
        ),
        (
            "Slip the next stitch purlwise to the right needle.",
            "Take the yarn between the needles to the back.",
            "Slip the stitch back to the left needle, bring the yarn to the front, and turn.",
        ),
    ),
    "twin": (
        (
            "Lift the right leg of the stitch below the next one onto the left needle.",
            "Knit it, and put the new loop back on the left needle, beside the next stitch. Turn.",
        ),
        (
            "Slip the next stitch purlwise to the right needle.",
            "Lift the stitch below it onto the left needle, and purl it.",
            "Slip the new loop and the stitch beside it back to the left needle, and turn.",
        ),
    ),
    "yo": (
        ("Leave the yarn in front: the next stitch lays it over the needle.",),
        ("Leave the yarn in back: the next stitch lays it over the needle.",),
    ),
    "kw": (("Lift the wrap from the front onto the left needle, and knit it together with its stitch.",), ()),
    "pw": ((), ("Lift the wrap from the back onto the left needle, and purl it together with its stitch.",)),
    "ktw": (("Knit both loops of the next twin together as one.",), ()),
    "ptw": ((), ("Purl both loops of the next twin together as one.",)),
    "k2tog": (("Knit the yarn over together with the stitch beyond it.",), ()),
    "ssp": (
        (),
        ("Slip yarn over and stitch knitwise one by one, and purl them together through the back loops.",),
    ),
}
"""Steps at the turns of short rows, on the right side and on the wrong one (sources: the tests of the ways to turn)."""

_ACROSS: dict[OpName, str] = {"k": "Knit {n}.", "p": "Purl {n}.", "slwyif": "Slip {n} with the yarn in front."}


def short_row_steps(item: Round) -> tuple[tuple[str, int], ...]:
    """The stretches of a short row, each one step, and its turn, with how often each is done.

    Only of a row in which a way to turn, or to close the gap of a turn, is new on its side: it has a note.
    """
    if not item.note or item.side == "round" or not item.uses(*_TURNED):
        return ()
    stretches = [each for each in item.ops if isinstance(each, Op)]  # they have no repeats
    side = 0 if item.side == "RS" else 1
    parts: list[tuple[str, int]] = []
    for each in stretches:
        if each.op in _TURNED:
            parts += [(text, each.n) for text in _TURNED[each.op][side]]
        elif each.op in _ACROSS:
            parts.append((_ACROSS[each.op].format(n=each.n), 1))
    return tuple(parts) if item.uses("wrap", "twin") else (*parts, ("Turn.", 1))
