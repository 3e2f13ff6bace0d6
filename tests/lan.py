"""The real server with --lan, on free ports, in a process of its own."""

from __future__ import annotations

import http.client
import json
import re
import signal
import socket
import ssl
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path

from fieldapp.certificates import CA_CERTIFICATE, FOLDER

ROOT = Path(__file__).resolve().parents[1]


@contextmanager
def tls(context, address, port, name, timeout=8):
    """Give a connection on which both sides have shaken hands."""
    with (
        socket.create_connection((address, port), timeout=timeout) as plain,
        context.wrap_socket(plain, server_hostname=name) as sock,
    ):
        yield sock


class Lan:
    """A server with --lan on free ports."""

    def __init__(self, data, *more):
        command = [sys.executable, "-m", "fieldapp.cli", "serve", "--lan", "--no-qr", "--port", "0", "--https-port", "0",
                   "--data", str(data), *more]  # fmt: skip
        self.process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        self.said = ""
        for line in self.process.stdout:
            self.said += line
            if "Ctrl-C" in line:
                break
        self.plain = int(re.search(r"http://localhost:(\d+)/\n", self.said)[1])
        self.secure = int(re.search(r"Secure page: +https://[^:]+:(\d+)/", self.said)[1])
        self.authority = str(Path(data) / FOLDER / CA_CERTIFICATE)

    def context(self, **limits):
        made = ssl.create_default_context(cafile=self.authority)
        for name, value in limits.items():
            setattr(made, name, value)
        return made

    def get(self, path, name="localhost", timeout=8, address="127.0.0.1", **headers):
        """Ask over HTTPS, the certificate checked for `name`; return status, headers and JSON."""
        with tls(self.context(), address, self.secure, name, timeout) as sock:
            head = "".join(f"{key}: {value}\r\n" for key, value in headers.items())
            sock.sendall(f"GET {path} HTTP/1.1\r\nHost: {name}:{self.secure}\r\nConnection: close\r\n{head}\r\n".encode())
            answer = http.client.HTTPResponse(sock)
            answer.begin()
            return answer.status, answer.headers, json.loads(answer.read())

    def stop(self):
        self.process.send_signal(signal.SIGTERM)
        code = self.process.wait(15)
        self.said += self.process.stdout.read()
        self.process.stdout.close()
        return code
