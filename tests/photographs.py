"""Photographs as cameras make them, for the tests."""

from __future__ import annotations

import io

from PIL import Image


def photograph(width: int = 60, height: int = 40) -> bytes:
    """A JPEG of a gradient with a place, an owner and a remark written beside the picture."""
    exif = Image.Exif()
    exif[0x010E] = "Larch Lane 7"  # ImageDescription
    exif[0x8825] = {1: "N", 2: (47.0, 30.0, 0.0)}  # GPSInfo
    file = io.BytesIO()
    Image.linear_gradient("L").resize((width, height)).save(file, "JPEG", exif=exif, comment=b"at Larch Lane")
    return file.getvalue()
