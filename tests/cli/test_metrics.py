"""Counts of requests, in the text that Prometheus reads (github.com/prometheus/docs, exposition formats)."""

from __future__ import annotations

import socket
from contextlib import closing
from pathlib import Path
from urllib.request import urlopen

import pytest
from prometheus_client.parser import text_string_to_metric_families

from companion.cli import main
from companion.cli.metrics import counting_requests
from companion.web import create_app


def free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as listening:
        return int(listening.getsockname()[1])


def test_requests_are_counted_by_endpoint_and_never_by_path(store_path: Path) -> None:
    port = free_port()
    with counting_requests(port) as count:
        app = create_app({"DATABASE": store_path, "REQUEST_LOG": [count]})
        with closing(app.extensions["store"]):
            for path in ("/pair/" + "A" * 22, "/pair/" + "B" * 22, "/nowhere"):
                app.test_client().get(path)
        with urlopen(f"http://127.0.0.1:{port}/metrics") as answer:
            text = answer.read().decode()
    assert "AAAA" not in text
    found = {
        (sample.labels["endpoint"], sample.labels["status"]): sample.value
        for family in text_string_to_metric_families(text)
        for sample in family.samples
        if sample.name == "tapeline_request_seconds_count"
    }
    assert found == {("pages.plan", "404"): 2, ("", "404"): 1}


def test_a_port_that_is_taken_is_told_in_a_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        options = ["--local", "--port", "0", "--data", str(tmp_path)]
        assert main(["serve", *options, "--metrics-port", port]) == 2
    [line] = capsys.readouterr().err.splitlines()
    assert "choose another with --metrics-port" in line
