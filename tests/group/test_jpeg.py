"""A JPEG comes out as the same picture, without what a camera wrote beside it; nothing else comes in."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from companion.group.jpeg import MOST_BYTES, NotAPhotoError, bare_jpeg

from ..photographs import photograph


def test_the_picture_stays_and_the_place_goes() -> None:
    """Pillow writes and reads the files; Exif 2.3 has the GPS tags under 0x8825."""
    taken = photograph()
    assert Image.open(io.BytesIO(taken)).getexif()
    assert b"Larch Lane" in taken
    kept = bare_jpeg(taken)
    assert not Image.open(io.BytesIO(kept)).getexif()
    assert b"Larch Lane" not in kept
    assert Image.open(io.BytesIO(kept)).tobytes() == Image.open(io.BytesIO(taken)).tobytes()
    assert bare_jpeg(kept) == kept


def _png() -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (2, 2)).save(file, "PNG")
    return file.getvalue()


@pytest.mark.parametrize(
    ("given", "says"),
    [
        (b"", "has to be a JPEG"),
        (_png(), "has to be a JPEG"),
        (b"<script>alert(1)</script>", "has to be a JPEG"),
        (b"\xff\xd8", "damaged"),
        (b"\xff\xd8\xff\xe0\x00\x01", "damaged"),
        (b"\xff\xd8<script>", "damaged"),
        (photograph()[:200], "damaged"),
        (b"\xff\xd8" + b"\0" * MOST_BYTES, "allowed are 1000"),
    ],
)
def test_what_is_no_photo_is_reported(given: bytes, says: str) -> None:
    with pytest.raises(NotAPhotoError, match=says):
        bare_jpeg(given)
