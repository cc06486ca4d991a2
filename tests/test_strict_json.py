"""JSON that is unsound is refused with a sentence that says where and why."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.strict_json import UnsoundJSONError, read_json

SCALARS = st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text()
DOCUMENTS = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4), max_leaves=20
)


@given(DOCUMENTS)
def test_what_json_writes_is_read_back(document: Any) -> None:
    assert read_json(json.dumps(document).encode()) == document


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (b'{"a": 1,\n "b" 2}', "line 2, column 6"),
        (b"", "line 1, column 1"),
        (b"\xff\xfe{}", "byte 1 is not UTF-8"),
        (b'{"gauge": NaN}', "NaN"),
        (b'{"gauge": -Infinity}', "-Infinity"),
        (b'{"foot": 1, "foot": 2}', "'foot' stands there twice"),
        (b"[" * 100_000, "nested far too deep"),
        (b'{"a":' * 100_000, "nested far too deep"),
        (b"9" * 5_000, "too many digits"),
        (b"[{" + b",".join(b'"%d":1' % number for number in range(201)) + b"}]", "has 201 entries, and at most 200"),
    ],
)
def test_unsound_text_is_reported(text: bytes, says: str) -> None:
    with pytest.raises(UnsoundJSONError, match=r"\A[^\n]+\Z") as told:
        read_json(text)
    assert says in str(told.value)


def test_a_byte_order_mark_is_no_fault() -> None:
    assert read_json(b"\xef\xbb\xbf[1]") == [1]
