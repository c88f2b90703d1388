#!/usr/bin/env python3
"""Fuzzes the interface by its own description: interface.py PROGRAM [SECONDS]

Serves a throw-away shop with the example's truck in it, makes a token as its owner would, and lets schemathesis ask
every address of /api/v1/openapi.json with what the description allows and with what it does not. Exit 1 where an answer
is a server error, or has a status, type of content or shape that is not described.
"""
import http.client
import json
import re
import subprocess
import sys
import tempfile
import urllib.parse
from pathlib import Path

HERE = Path(__file__).resolve().parent
EXAMPLE = HERE.parent / "examples" / "tarnhorn.toml"

SECONDS = 10  # enough for a thousand requests; the same seed asks the same
SEED = 1
SLOWEST_S = 90.0  # what the program itself allows an answer, a verdict with ranges
PASSWORD = "two left spanners"
CHECKS = [
    "not_a_server_error",
    "status_code_conformance",
    "content_type_conformance",
    "response_headers_conformance",
    "response_schema_conformance",
    "ignored_auth",
]


class Browser:
    """Sends forms as the owner."""

    def __init__(self, host):
        self.host = host
        self.cookie = ""

    def ask(self, path, form=None):
        connection = http.client.HTTPConnection(self.host, timeout=SLOWEST_S)
        headers = {"Cookie": self.cookie, "Content-Type": "application/x-www-form-urlencoded"}
        body = None if form is None else urllib.parse.urlencode(form)
        connection.request("GET" if form is None else "POST", path, body, headers)
        answer = connection.getresponse()
        text = answer.read().decode()
        if answer.status >= 400:
            raise RuntimeError(f"{path}: status {answer.status}")
        set_cookie = answer.getheader("Set-Cookie")
        if set_cookie:
            self.cookie = set_cookie.split(";")[0]
        connection.close()
        return text


def found(pattern, text):
    match = re.search(pattern, text)
    if match is None:
        raise RuntimeError(f"{pattern} is not in what came back")
    return match.group(1)


def token(host, code):
    """A token of the owner, whose account is made with the first run's code."""
    browser = Browser(host)
    browser.ask("/first-run", {"code": code, "name": "Mira Oakshott", "password": PASSWORD, "again": PASSWORD})
    page = browser.ask("/tokens")
    form = {
        "key": found(r'name="key" value="([^"]+)"', page),
        "person": found(r'<option value="([^"]+)"', page),
        "label": "fuzzer",
        "days": "1",
    }
    return found(r"<code>([0-9a-f]+)</code>", browser.ask("/tokens", form))


def take_in(host, secret):
    """The example's truck, so that there is a job to ask for."""
    body = json.dumps({"customer": "A. Fernhill", "truck": "Tarnhorn 6", "file": EXAMPLE.read_text()})
    headers = {
        "Authorization": f"Bearer {secret}",
        "Content-Type": "application/json",
        "Idempotency-Key": "the-example-truck",
    }
    connection = http.client.HTTPConnection(host, timeout=SLOWEST_S)
    connection.request("POST", "/api/v1/jobs", body, headers)
    status = connection.getresponse().status
    if status != 201:
        raise RuntimeError(f"the example's truck is not taken in: status {status}")


def fuzz(host, secret, seconds):
    command = [
        sys.executable, "-m", "schemathesis.cli", "run", f"http://{host}/api/v1/openapi.json",
        "--header", f"Authorization: Bearer {secret}", "--checks", ",".join(CHECKS), "--seed", str(SEED),
        "--max-time", str(seconds), "--phases", "examples,coverage,fuzzing", "--request-timeout", str(SLOWEST_S),
        "--suppress-health-check", "all", "--warnings", "off", "--generation-database", "none", "--no-color",
    ]
    return subprocess.run(command, check=False).returncode


def main():
    program = sys.argv[1]
    seconds = int(sys.argv[2]) if sys.argv[2:] and sys.argv[2] else SECONDS
    with tempfile.TemporaryDirectory() as folder:
        serve = [program, "serve", "--database", f"{folder}/shop.sqlite", "--listen", "127.0.0.1:0"]
        with subprocess.Popen(serve, stdout=subprocess.PIPE, text=True) as served:
            try:
                told = ""
                while "code=" not in told:
                    line = served.stdout.readline()
                    if not line:
                        raise RuntimeError(f"the pages are not served: {told}")
                    told += line
                host = found(r"http://([^/\s]+)/", told)
                secret = token(host, found(r"code=([0-9a-f]+)", told))
                take_in(host, secret)
                return fuzz(host, secret, seconds)
            finally:
                served.terminate()


if __name__ == "__main__":
    sys.exit(main())
