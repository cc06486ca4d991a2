"""A photo that a leader puts beside a note: a small JPEG, without what the camera wrote into it. Pure."""

from __future__ import annotations

KILOBYTE = 1024
MOST_BYTES = 1000 * KILOBYTE
"""A page makes a photo of 1600 px, the longer side, which has 300 to 700 kB; six of them go with a design (ours)."""

MEDIA_TYPE = "image/jpeg"

_BEGIN, _SCAN, _APP0, _APP14, _COMMENT = 0xD8, 0xDA, 0xE0, 0xEE, 0xFE
"""Markers of ITU-T T.81, table B.1. APP0 holds the JFIF header, APP14 which colours the numbers stand for."""


class NotAPhotoError(ValueError):
    """What was given is no photo that can be kept; the message says what is."""


def bare_jpeg(data: bytes) -> bytes:
    """The picture of a JPEG alone: no place, time or owner that a camera has written beside it.

    Raises NotAPhotoError for anything else, and for one of more than MOST_BYTES.
    """
    if len(data) > MOST_BYTES:
        given = len(data) // KILOBYTE
        raise NotAPhotoError(f"The photo has {given} kB; allowed are {MOST_BYTES // KILOBYTE}. Make it smaller first.")
    if data[:2] != bytes([0xFF, _BEGIN]):
        raise NotAPhotoError("A photo has to be a JPEG, as most cameras make it.")
    found = bytearray(data[:2])
    at = 2
    while True:
        marker = data[at : at + 2]
        length = int.from_bytes(data[at + 2 : at + 4], "big")
        if len(marker) < 2 or marker[0] != 0xFF or length < 2 or at + 2 + length > len(data):
            raise NotAPhotoError("The photo is damaged. Choose another, or take it again.")
        kind = marker[1]
        if kind == _SCAN:
            return bytes(found + data[at:])
        if kind != _COMMENT and (kind & 0xF0 != _APP0 or kind in {_APP0, _APP14}):
            found += data[at : at + 2 + length]
        at += 2 + length
