"""A plan request as letters, to hand a plan on by a code without a server between. Pure.

The letters stand in the fragment of an address, which browsers keep to themselves (RFC 3986, section 3.5). They are
what differs from the usual in the request, as JSON, deflated (RFC 1951), in base32 (RFC 4648, section 6): its letters
are ones that a QR code takes at five and a half bits each (ISO/IEC 18004, alphanumeric mode).
"""

from __future__ import annotations

import base64
import json
import zlib

from ..planning import PlanRequest
from ..planning.units import Unit

MOST_LETTERS = 900
"""Letters that a phone reads from another's screen: a code of 97 squares a side at most (ours)."""

RAW = -15
"""zlib's name for deflate without a frame."""


def plan_letters(request: PlanRequest, unit: Unit) -> str | None:
    """The request and the unit it is shown in, "cm.MJQX…"; None where that is more than a code takes."""
    unusual = request.model_dump(mode="json", by_alias=True, exclude_defaults=True)
    # What is usual for the ease depends on the rest, so that it always goes along.
    document = json.dumps(unusual | {"ease": request.ease.model_dump(mode="json")}, separators=(",", ":"))
    packer = zlib.compressobj(9, zlib.DEFLATED, RAW)
    letters = base64.b32encode(packer.compress(document.encode()) + packer.flush()).decode().rstrip("=")
    return f"{unit}.{letters}" if len(letters) <= MOST_LETTERS else None
