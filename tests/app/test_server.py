"""The real server in a process of its own: killed without warning, stopped, measured from outside."""

import http.client
import json
import os
import re
import signal
import subprocess
import sys
import threading
import time
from contextlib import contextmanager
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@contextmanager
def running(data, *more):
    """Start a server on a free port and give its process and port."""
    command = [sys.executable, "-m", "fieldapp.cli", "serve", "--port", "0", "--data", str(data), *more]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as process:
        try:
            port = None
            for line in process.stdout:
                found = re.search(r"localhost:(\d+)/", line)
                port = int(found[1]) if found else port
                if "Ctrl-C" in line:
                    break
            assert port, "the server did not start"
            yield process, port
        finally:
            process.kill()


def ask(port, method, path, body=None, **headers):
    """Send one request and return status and JSON."""
    connection = http.client.HTTPConnection("localhost", port, timeout=10)
    try:
        raw = None if body is None else json.dumps(body)
        connection.request(method, path, raw, {"Content-Type": "application/json", **headers})
        answer = connection.getresponse()
        return answer.status, json.loads(answer.read())
    finally:
        connection.close()


@pytest.mark.skipif(os.name == "nt", reason="SIGKILL")
def test_every_acknowledged_write_is_there_after_a_kill(tmp_path):
    acknowledged = set()
    for turn in range(3):
        with running(tmp_path) as (process, port):

            def write(writer, turn=turn, port=port):
                for number in range(1000):
                    title = f"{turn}-{writer}-{number}"
                    try:
                        status, _ = ask(
                            port, "POST", "/api/jobs", {"title": title, "who": "L"}, **{"Idempotency-Key": title}
                        )
                    except (OSError, http.client.HTTPException, ValueError):
                        return
                    if status == 201:
                        acknowledged.add(title)

            writers = [threading.Thread(target=write, args=(n,)) for n in range(3)]
            for writer in writers:
                writer.start()
            time.sleep(0.4 + 0.2 * turn)
            os.kill(process.pid, signal.SIGKILL)
            for writer in writers:
                writer.join()
    assert len(acknowledged) > 20
    with running(tmp_path) as (_, port):
        titles = [job["title"] for job in ask(port, "GET", "/api/jobs")[1]["jobs"]]
        assert acknowledged <= set(titles)
        assert len(titles) == len(set(titles))
        # A phone that lost the answer sends it again: still one job.
        last = max(acknowledged)
        ask(port, "POST", "/api/jobs", {"title": last, "who": "L"}, **{"Idempotency-Key": last})
        assert len(ask(port, "GET", "/api/jobs")[1]["jobs"]) == len(titles)


@pytest.mark.skipif(os.name == "nt", reason="SIGTERM")
def test_the_server_stops_when_asked_and_refuses_foreign_names(tmp_path):
    with running(tmp_path) as (process, port):
        assert ask(port, "GET", "/api/health")[1]["name"] == "Pitsplice"
        assert ask(port, "GET", "/api/health", Host="evil.example")[0] == 421
        process.terminate()
        assert process.wait(10) == 0
        assert "Stopped." in process.stdout.read()


def test_lan_says_who_gets_in_and_shows_a_code(tmp_path):
    command = [sys.executable, "-m", "fieldapp.cli", "serve", "--lan", "--port", "0", "--https-port", "0",
               "--data", str(tmp_path)]  # fmt: skip
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True, encoding="utf-8",
                          env={**os.environ, "PYTHONIOENCODING": "utf-8"}) as process:  # fmt: skip
        said = ""
        for line in process.stdout:
            said += line
            if "Ctrl-C" in line:
                break
        process.kill()
    assert "Only paired phones can read or write" in said
    assert re.search(r"Secure page: +https://pitsplice[a-z0-9-]*\.local:\d+/", said)
    if "New phone:" in said:
        assert "▄" in said


def test_a_taken_port_is_told(tmp_path):
    with running(tmp_path) as (_, port):
        command = [sys.executable, "-m", "fieldapp.cli", "serve", "--port", str(port), "--data", str(tmp_path)]
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=20, check=False)
    assert done.returncode == 2
    assert json.loads(done.stderr)["type"].endswith("port-taken")
