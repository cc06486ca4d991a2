"""Every address of the server with what it does, from the views: `python tests/routes.py` writes the table."""

from __future__ import annotations

import inspect
import re
import tempfile
from pathlib import Path

from flask import Flask

from companion.web import create_app

TABLE = Path(__file__).parents[1] / "companion" / "web" / "routes.md"


def routes_table(app: Flask) -> str:
    """The table as Markdown, ordered by address; a view says in the first sentence of its docstring what it does."""
    rows = []
    for rule in app.url_map.iter_rules():
        shape = re.sub(r"<(?:\w+:)?(\w+)>", r"<\1>", rule.rule)
        methods = sorted((rule.methods or set()) & {"GET", "POST"})
        what = inspect.getdoc(app.view_functions[rule.endpoint])
        assert what, f"{rule.endpoint} has no docstring"
        first = " ".join(what.split("\n\n")[0].split())
        rows.append((shape, f"| {', '.join(f'`{method} {shape}`' for method in methods)} | {first} |"))
    lines = ["# Addresses", "", "Written by `python tests/routes.py` from the docstrings of the views.", ""]
    return "\n".join([*lines, "| Address | What it does |", "| --- | --- |", *(row for _, row in sorted(rows)), ""])


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as folder:
        made = create_app({"DATABASE": Path(folder) / "pairs.sqlite3"})
        TABLE.write_text(routes_table(made))
        made.extensions["store"].close()
