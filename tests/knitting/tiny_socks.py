"""Tiny socks as plan documents, written by hand: small enough to be counted on fingers."""

import copy
from typing import Any

from tests.reader import read_words

Data = dict[str, Any]


def line(words: str, before: int, after: int, kind: str = "plain", side: str = "round") -> Data:
    """A round of the document from its words."""
    work = [{"zone": "leg", "ops": read_words(words)}]
    return {
        "side": side,
        "kind": kind,
        "work": work,
        "before": before,
        "after": after,
        "resting": 0,
        "chart_row": None,
        "note": None,
    }


def part(key: str, *rounds: Data, times: int = 1) -> Data:
    flat = any(data["side"] != "round" for data in rounds)
    steps = [{"times": times, "rounds": list(rounds)}]
    return {"key": key, "title": key.title(), "flat": flat, "length_cm": None, "steps": steps}


def plan(*sections: Data) -> Data:
    return {"schema": 1, "sections": list(sections)}


def cast_on(count: int) -> Data:
    return part("cuff", line(f"cast on {count}", 0, count, "setup"))


def bound_off(count: int) -> Data:
    return part("toe", line(f"bind off {count}", count, 0, "finish"))


def tube() -> Data:
    return plan(cast_on(8), part("leg", line("[k1, p1] x 4", 8, 8), times=5), bound_off(8))


def flap_and_turn() -> tuple[Data, Data]:
    flap = part(
        "heel-flap",
        line("sl1, k7, turn", 16, 16, side="RS"),
        line("sl1, p7, turn", 16, 16, side="WS"),
        times=4,
    )
    turn = part(
        "heel-turn",
        line("k5, ssk, k1, turn", 16, 15, "decrease", "RS"),
        line("sl1, p3, p2tog, p1, turn", 15, 14, "decrease", "WS"),
    )
    return flap, turn


def sock() -> Data:
    """A tiny cuff-down sock: 16 stitches, a flap of 8 by 8, a round heel turn, a gusset and a grafted toe."""
    flap, turn = flap_and_turn()
    gusset_shaping = (
        line("ssk, k12, k2tog, k8", 24, 22, "decrease"),
        line("k22", 22, 22),
        line("ssk, k10, k2tog, k8", 22, 20, "decrease"),
        line("k20", 20, 20),
        line("ssk, k8, k2tog, k8", 20, 18, "decrease"),
        line("k18", 18, 18),
        line("ssk, k6, k2tog, k8", 18, 16, "decrease"),
    )
    gusset = part(
        "gusset",
        line("k6, pick up and knit 5, turn", 14, 19, "pick-up", "RS"),
        line("p11, pick up and purl 5, turn", 19, 24, "pick-up", "WS"),
        *gusset_shaping,
    )
    toe = part(
        "toe",
        line("[k1, ssk, k2, k2tog, k1] x 2", 16, 12, "decrease"),
        line("[k1, ssk, k2tog, k1] x 2", 12, 8, "decrease"),
        line("graft 4 pairs", 8, 0, "finish"),
    )
    leg = part("leg", line("k16", 16, 16), times=12)
    foot = part("foot", line("k16", 16, 16), times=10)
    cuff = part("cuff", line("cast on 16", 0, 16, "setup"), *[line("[k1, p1] x 8", 16, 16)] * 4)
    return plan(cuff, leg, flap, turn, gusset, foot, toe)


def short_rows(words: str, live: int, resting: int = 0) -> list[Data]:
    """Rows, the first on the right side, from their words with a bar between."""
    return [
        line(f"{row}, turn", live, live, "short-row", "WS" if number % 2 else "RS") | {"resting": resting}
        for number, row in enumerate(words.split(" | "))
    ]


def short_row_heel() -> Data:
    """A heel over 8 of 16 stitches: down to 4 in the middle and out again, with double stitches."""
    rows = (
        "k8 | ds, p7 | ds, k6 | ds, p5 | ds, k4 | ds, p3"
        " | ds, k2, kds x 2 | ds, p3, pds x 2 | ds, k4, kds x 2 | ds, p5, pds x 2"
    )
    return plan(
        cast_on(16), part("heel", *short_rows(rows, 16)), part("foot", line("k7, kds, k8", 16, 16)), bound_off(16)
    )


HOURGLASS = (
    "k8 | p8 | ds, k7 | ds, p6 | ds, k5 | ds, p4 | ds, k3, kds | ds, p3, pds x 2 | ds, k4, kds x 2 | ds, p5, pds x 2"
)
"""Two rows over 8 stitches, four that leave 4 in the middle, and four that win them back."""


TURNED_BY = {
    "wrap and turn": "k8 | p8 | k7, wrap | p6, wrap | k5, wrap | p4, wrap"
    " | k4, kw, wrap | p5, pw, wrap | k6, kw | sl1 wyif, p6, pw",
    "shadow wrap": "k8 | p8 | k7, twin | p6, twin | k5, twin | p4, twin"
    " | k4, ktw, twin | p5, ptw, twin | k6, ktw | sl1 wyif, p6, ptw",
    "yarn over": "k8 | p8 | k7 | yo, p6 | yo, k5 | yo, p4 | yo, k4, k2tog | yo, p5, ssp | yo, k6, k3tog"
    " | sl1 wyif, p6, sssp",
}
"""The same rows with their turns marked otherwise."""

YARN_OVERS = (16, 16, 16, 17, 18, 19, 19, 19, 18, 16)
"""What is on the needles after each of the rows with yarn overs."""


def heel_turned_by(way: str) -> Data:
    """A heel over 8 of 16 stitches by one of these ways."""
    rows, live = short_rows(TURNED_BY[way], 16), 16
    if way == "yarn over":
        for row, after in zip(rows, YARN_OVERS, strict=True):
            row.update(before=live, after=after)
            live = after
    return plan(cast_on(16), part("heel", *rows), part("foot", line("k16", 16, 16)), bound_off(16))


def toe_up_sock() -> Data:
    """A tiny sock of 16 stitches: a short-row toe on a provisional cast-on of 8, a short-row heel, leg and cuff."""
    toe = part(
        "toe",
        line("cast on 8", 0, 8, "setup") | {"resting": 8},
        *short_rows(HOURGLASS, 8, resting=8),
        line("k7, kds, k8 from waste yarn", 8, 16, "pick-up"),
    )
    heel = part("heel", *short_rows(HOURGLASS, 16), line("k7, kds, k8", 16, 16))
    foot, leg = (part(key, line("k16", 16, 16), times=times) for key, times in (("foot", 10), ("leg", 6)))
    cuff = part("cuff", line("[k1, p1] x 8", 16, 16), line("bind off 16", 16, 0, "finish"))
    return plan(toe, foot, heel, leg, cuff)


def afterthought_sock() -> Data:
    """A tiny sock of 16 stitches whose heel of 8 is worked last, into an opening; the toe is round."""
    cuff = part("cuff", line("cast on 16", 0, 16, "setup"), line("[k1, p1] x 8", 16, 16))
    leg = part("leg", line("k16", 16, 16), times=6)
    opening = part("heel-opening", line("k8 with waste yarn, k8 again, k8", 16, 16, "setup"))
    foot = part("foot", line("k16", 16, 16), times=10)
    toe = part(
        "toe",
        line("[k2, k2tog] x 4", 16, 12, "decrease"),
        line("k12", 12, 12),
        line("[k1, k2tog] x 4", 12, 8, "decrease"),
        line("graft 4 pairs", 8, 0, "finish"),
    )
    for section in (opening, foot, toe):
        for data in section["steps"][0]["rounds"]:
            data["resting"] = 8
    heel = part(
        "heel",
        line("k8 from waste yarn, pick up and knit 10", 0, 18, "pick-up"),
        line("[k1, ssk, k3, k2tog, k1] x 2", 18, 14, "decrease"),
        line("k14", 14, 14),
        line("[k1, ssk, k1, k2tog, k1] x 2", 14, 10, "decrease"),
        line("graft 5 pairs", 10, 0, "finish"),
    )
    return plan(cuff, leg, opening, foot, toe, heel)


def half_on_a_holder() -> Data:
    """Half of a cast-on of 8 waits on a holder until the other half has been knitted."""
    return plan(
        cast_on(8),
        part(
            "toe",
            line("k4 with waste yarn, k4", 8, 4, "setup") | {"resting": 4},
            line("k4", 4, 4) | {"resting": 4},
            line("k4, k4 from waste yarn", 4, 8, "setup"),
            line("k8", 8, 8),
            line("bind off 8", 8, 0, "finish"),
        ),
    )


def round_turn(heel: int) -> Data:
    """The round heel turn as the trade words it: past the middle, then to the gap row by row."""
    half = heel // 2
    past = 1 if (half - 4) % 2 == 0 else 2
    live = heel
    rows = []
    for number in range(2 + half - 3 - past):
        side = "WS" if number % 2 else "RS"
        knit_or_purl, together = ("p", "p2tog") if number % 2 else ("k", "ssk")
        start = f"sl1, {knit_or_purl}{2 * past + number}" if number else f"k{half + past}"
        rows.append(line(f"{start}, {together}, {knit_or_purl}1, turn", live, live - 1, "decrease", side))
        live -= 1
    return plan(cast_on(heel), part("heel-turn", *rows), part("foot", line(f"k{live}", live, live)), bound_off(live))


def at(document: Data, number: int) -> Data:
    """Round `number` (from 1) of a document whose repeats are first written out as single steps."""
    for section in document["sections"]:
        rounds = [copy.deepcopy(r) for step in section["steps"] for _ in range(step["times"]) for r in step["rounds"]]
        section["steps"] = [{"times": 1, "rounds": rounds}]
    flat: list[Data] = [r for section in document["sections"] for r in section["steps"][0]["rounds"]]
    return flat[number - 1]
