"""QR codes: for the screen and paper as SVG, for the terminal as text."""

from __future__ import annotations

import io
from functools import lru_cache

import qrcode  # type: ignore[import-untyped]
from markupsafe import Markup
from qrcode.image.svg import SvgPathFillImage  # type: ignore[import-untyped]


def _code(text: str) -> qrcode.QRCode:
    code = qrcode.QRCode(error_correction=qrcode.constants.ERROR_CORRECT_M)
    code.add_data(text)
    code.make(fit=True)
    return code


@lru_cache(64)  # a plan is looked at again and again, and its code takes a third of the page's time
def qr_svg(text: str) -> Markup:
    """A QR code on a white ground of its own, so that it reads on a dark page too."""
    return Markup(_code(text).make_image(image_factory=SvgPathFillImage).to_string(encoding="unicode"))


def qr_text(text: str) -> str:
    """A QR code of block characters, light on dark as most terminals are."""
    out = io.StringIO()
    _code(text).print_ascii(out=out, invert=True)
    return out.getvalue()
