"""Imports what a phone keeps in an image of Python's memory, so that it begins with all of this.

Nothing may be among it that needs a compiled library: an image has only the memory of Python itself.
"""

from importlib import import_module

STANDARD = (
    *("asyncio", "dataclasses", "datetime", "decimal", "fractions", "hashlib", "importlib.metadata", "inspect"),
    *("ipaddress", "json", "pathlib", "random", "statistics", "typing", "uuid", "zipfile"),
)
LIBRARIES = ("jinja2", "typing_extensions")

for name in (*STANDARD, *LIBRARIES):
    import_module(name)
