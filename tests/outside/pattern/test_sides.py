"""Stitches from the wrong side against the yarn trade's key of what looks alike from the right side."""

from __future__ import annotations

import pytest

from companion.planning.stitches.order import in_order

# The Craft Yarn Council's knit chart symbols (craftyarncouncil.com/standards/knit-chart-symbols), as they are copied in
# github.com/leifrogers/cyc-svgs, dist/knitSymbols.json: "K2tog on RS, p2tog on WS".
KEY = {
    "k1": "p1",
    "p1": "k1",
    "k1 tbl": "p1 tbl",
    "p1 tbl": "k1 tbl",
    "k2tog": "p2tog",
    "p2tog": "k2tog",
    "ssk": "ssp",
    "ssp": "ssk",
    "k3tog": "p3tog",
    "p3tog": "k3tog",
    "sssk": "sssp",
    "sssp": "sssk",
    "sl 1 purlwise wyib": "sl 1 purlwise wyif",
    "sl 1 purlwise wyif": "sl 1 purlwise wyib",
    "yo": "yo",
    # The key of paperzz.com/doc/7063943 (basic symbols): "Kfb on RS, pfb on WS"
    "kfb": "pfb",
    "pfb": "kfb",
}


@pytest.mark.parametrize("right", KEY)
def test_a_stitch_is_on_the_wrong_side_what_the_key_says_of_it(right: str) -> None:
    rows = in_order((f"Row 1 (RS): {right}, k2", f"Row 2 (WS): p2, {KEY[right]}")).rows
    assert rows[0].names == rows[1].names
