"""What the abbreviations of a plan mean; they are the ones in general use in the trade."""

from __future__ import annotations

import re
from collections.abc import Iterable

from ..stitches.operations import CABLES, Cable


def _crossing(cable: Cable) -> str:
    """How a cable is worked: which stitches wait on the cable needle, and where."""
    behind = f"{'p' if cable.purled else 'k'}{cable.behind}"
    if cable.leans_right:
        held, rest = f"slip {cable.behind} to a cable needle and hold it in back", f"k{cable.front}, then {behind}"
    else:
        held, rest = f"slip {cable.front} to a cable needle and hold it in front", f"{behind}, then k{cable.front}"
    return f"{held}, {rest} from the cable needle"


ABBREVIATIONS: dict[str, str] = {
    "k": "knit",
    "p": "purl",
    "tbl": "through the back loop",
    "sl": "slip purlwise with the yarn in back",
    "wyif": "with the yarn in front",
    "k2tog": "knit two together: one less, leaning to the right",
    "ssk": "slip two knitwise one by one, knit them together through the back loops: one less, leaning to the left",
    "skp": "slip one knitwise, knit one, pass the slipped stitch over: one less, leaning to the left",
    "p2tog": "purl two together: one less",
    "ssp": "slip two knitwise one by one, purl them together through the back loops: one less",
    "k3tog": "knit three together: two less, leaning to the right",
    "p3tog": "purl three together: two less",
    "sssk": "slip three knitwise one by one, knit them together through the back loops: two less, leaning to the left",
    "sssp": "slip three knitwise one by one, purl them together through the back loops: two less",
    "s2kpo": "slip two together knitwise, knit one, pass the two slipped stitches over: two less, the middle on top",
    "sk2p": "slip one knitwise, knit two together, pass the slipped stitch over: two less, leaning to the left",
    "yo": "yarn over: lay the yarn over the right needle from front to back: one more, and a hole",
    "kfb": "knit into the front and the back of the stitch: one more",
    "pfb": "purl into the front and the back of the stitch: one more",
    "m1p": "lift the bar before the next stitch and purl it twisted: one more",
    "m1l": "lift the bar before the next stitch from front to back and knit it through the back loop: one more",
    "m1r": "lift the bar before the next stitch from back to front and knit it through the front loop: one more",
    "ds": "double stitch: slip the first stitch purlwise with the yarn in front, then pull the yarn up over the needle "
    "to the back until both legs of the stitch lie on top; before a purl bring the yarn to the front again. It counts "
    "as one stitch",
    "kds": "knit both legs of a double stitch together",
    "pds": "purl both legs of a double stitch together",
    "wrap": "slip the next stitch purlwise, take the yarn between the needles to the other side, slip the stitch back, "
    "and bring the yarn to this side again: it lies round the stitch, which is not worked",
    "kw": "knit a wrapped stitch together with its wrap, or with both where it has two: lift them onto the left needle "
    "from the front first",
    "pw": "purl a wrapped stitch together with its wrap, or with both where it has two: lift them onto the left needle "
    "from the back first",
    "twin": "shadow wrap, a second loop beside the next stitch: on the right side lift the stitch below that one onto "
    "the left needle, knit it, and put the new loop back there; on the wrong side slip the next stitch first, purl "
    "into the stitch below it, and slip both back. It is not worked",
    "ktw": "knit the two or three loops of a twin together as one stitch",
    "ptw": "purl the two or three loops of a twin together as one stitch",
    **{name: _crossing(cable) for name, cable in CABLES.items()},
    "RS": "right side, the outside of the sock",
    "WS": "wrong side, the inside",
}
"""By what stands in the words of a round."""

_SHORT = re.compile(r"\d/\d [RL]P?C|s2kpo|sk2p|[kp][23]tog|m1[lrp]|[a-z]+")


def meanings_of(words: Iterable[str], known: Iterable[str]) -> dict[str, str]:
    """The abbreviations that words of rounds use, and those known to be used, such as sides, with what they mean."""
    said = {short for line in set(words) for short in _SHORT.findall(line)} | {*known}
    return {short: long for short, long in ABBREVIATIONS.items() if short in said}
