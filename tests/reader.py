"""An independent reader of the words of a round: "k12, k2tog, [k1, p1] x 16" back to a plan's ops."""

import re
from typing import Any

Op = dict[str, Any]

NUMBER = r"(?P<n>[1-9][0-9]*)"
# The forms with a number inside: what is written, and the op it stands for.
COUNTED = {
    rf"k{NUMBER}": "k",
    rf"p{NUMBER}": "p",
    rf"k{NUMBER}tbl": "ktbl",
    rf"p{NUMBER}tbl": "ptbl",
    rf"sl{NUMBER}": "sl",
    rf"sl{NUMBER} wyif": "slwyif",
    rf"cast on {NUMBER}": "co",
    rf"bind off {NUMBER}": "bo",
    rf"sew down {NUMBER}": "sew",
    rf"k{NUMBER} with the cast-on edge": "join",
    rf"pick up and knit {NUMBER}": "pu",
    rf"pick up and purl {NUMBER}": "pup",
    rf"graft {NUMBER} pairs": "graft",
    rf"draw together {NUMBER}": "draw",
    rf"k{NUMBER} with waste yarn": "rest",
    rf"k{NUMBER} again": "co",
    rf"k{NUMBER} from waste yarn": "resume",
}
# The forms that stand alone, with " x 3" behind when worked more than once.
CABLES = "|".join(
    f"{size} {lean}" for size in ("1/1", "2/1", "2/2", "3/1", "3/3") for lean in ("RC", "LC", "RPC", "LPC")
)
TURNED = "ds|kds|pds|wrap|kw|pw|twin|ktw|ptw"
NAMED = f"k2tog|ssk|skp|p2tog|ssp|k3tog|p3tog|sssk|sssp|s2kpo|sk2p|m1l|m1r|m1p|yo|kfb|pfb|{TURNED}|{CABLES}"
FORMS = [(re.compile(written), op) for written, op in COUNTED.items()]
NAMED_FORM = re.compile(rf"(?P<op>{NAMED})(?: x {NUMBER})?")
REPEAT = re.compile(rf"\[(?P<inside>.*)\] x {NUMBER}")
IN_YARN = re.compile(r"(?P<work>.+) in (?P<yarn>\S+)")
ALL_IN = re.compile(r"all in (?P<yarn>\S+): (?P<words>.*)")
ZONE = re.compile(r"(?:(?P<zone>[A-Z][a-z]*): )?(?P<words>.*)")


class ReadingError(ValueError):
    """Words that are none of the known forms."""


def read_words(text: str) -> list[Op]:
    """The ops that the words stand for, each repeat kept a repeat; raises ReadingError on any other word."""
    same = ALL_IN.fullmatch(text)
    if same:
        return [_in_yarn(each, same["yarn"]) for each in read_words(same["words"])]
    return [_read_item(item) for item in split_items(text)]


def _in_yarn(op: Op, yarn: str) -> Op:
    return op | ({"ops": [_in_yarn(each, yarn) for each in op["ops"]]} if "ops" in op else {"yarn": yarn})


def read_zones(text: str) -> list[dict[str, Any]]:
    """The work of a round, "Sole: k32; Instep: k32", as the document has it; a zone not named is ""."""
    zones = []
    for part in text.split("; "):
        match = ZONE.fullmatch(part)
        if match is None:
            raise ReadingError(f"cannot read {part!r}")
        zones.append({"zone": (match["zone"] or "").lower(), "ops": read_words(match["words"])})
    return zones


def split_items(text: str) -> list[str]:
    """The items between the commas that are outside all brackets."""
    items, depth, start = [], 0, 0
    for at, sign in enumerate(text):
        depth += (sign == "[") - (sign == "]")
        if depth < 0:
            break
        if depth == 0 and text.startswith(", ", at):
            items.append(text[start:at])
            start = at + 2
    if depth:
        raise ReadingError(f"brackets do not match in {text!r}")
    return [*items, text[start:]]


def _read_item(item: str) -> Op:
    repeat = REPEAT.fullmatch(item)
    if repeat:
        return {"times": int(repeat["n"]), "ops": read_words(repeat["inside"])}
    coloured = IN_YARN.fullmatch(item)
    op = _read_op(coloured["work"] if coloured else item)
    return op | {"yarn": coloured["yarn"]} if coloured else op


def _read_op(words: str) -> Op:
    if words == "turn":
        return {"op": "turn"}
    named = NAMED_FORM.fullmatch(words)
    if named:
        return _op(named["op"], named["n"])
    for form, op in FORMS:
        counted = form.fullmatch(words)
        if counted:
            return _op(op, counted["n"])
    raise ReadingError(f"cannot read {words!r}")


def _op(name: str, count: str | None) -> Op:
    return {"op": name} if count in (None, "1") else {"op": name, "n": int(count)}
