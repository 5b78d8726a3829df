"""A trial copy served to browsers on this machine, and to nobody else."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from threading import Thread
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

from notchbook.problems import Place, fault
from notchbook.proofing.copies import kind_of
from notchbook.proofing.desk import Answer, Desk

LOOPBACK = "127.0.0.1"
NAMES = (LOOPBACK, "localhost")
"""What a browser on this machine may call it. A page from elsewhere whose name was made to lead
here still asks by its own name, and gets nothing."""

OWN = ".proof/"
"""Where the panel's own files stand: no recipe and no page can be called so."""

BREATH = 15.0
"""Seconds after which a silent connection is tried, so that one nobody reads comes to an end."""


@contextmanager
def served(desk: Desk, port: int) -> Iterator[str]:
    """While a trial is served: its address. With ``port`` 0 a free one is found. Raises
    ContentError where the port can't be had."""
    try:
        server = _Server((LOOPBACK, port), _handler(desk))
    except OSError as error:
        why = (error.strerror or str(error)).lower()
        what = f"The port {port} can't be had: {why}."
        raise fault(
            Place(f"--port {port}"), what, "Leave --port out to be given a free one."
        ) from None
    thread = Thread(target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True)
    thread.start()
    try:
        yield f"http://{LOOPBACK}:{server.server_port}/"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    block_on_close = False

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that goes away in the middle is nobody's fault."""
        if not isinstance(sys.exc_info()[1], OSError):
            super().handle_error(request, client_address)


def _handler(desk: Desk) -> type[BaseHTTPRequestHandler]:
    class Handler(BaseHTTPRequestHandler):
        server_version = "notchbook"
        sys_version = ""

        def do_GET(self) -> None:
            host = urlsplit(f"//{self.headers.get('Host', '')}")
            if _hostname(host.netloc) not in NAMES:
                self._send(Answer(403, b"This address is not served here.\n", "text/plain"))
                return
            asked = urlsplit(f"http://x{self.path}" if self.path.startswith("/") else "http://x/?")
            path = unquote(asked.path).removeprefix("/")
            if path == f"{OWN}events":
                self._events(_page(parse_qs(asked.query).get("page", [""])[0]))
            elif path in (f"{OWN}proof.css", f"{OWN}proof.js"):
                file = files("notchbook.proofing") / path.removeprefix(OWN)
                self._send(Answer(200, file.read_bytes(), kind_of(path)))
            else:
                self._send(desk.answer(_page(path)))

        def do_HEAD(self) -> None:
            self.do_GET()

        def _send(self, answer: Answer) -> None:
            self._head(answer.status, answer.kind, len(answer.data))
            if self.command != "HEAD":
                self.wfile.write(answer.data)

        def _head(self, status: int, kind: str, length: int | None) -> None:
            self.send_response(status)
            self.send_header("Content-Type", kind)
            self.send_header("Cache-Control", "no-store")
            self.send_header("Cross-Origin-Resource-Policy", "same-origin")
            self.send_header("X-Content-Type-Options", "nosniff")
            if length is not None:
                self.send_header("Content-Length", str(length))
            self.end_headers()

        def _events(self, path: str) -> None:
            """Tell an open page of every change to it or to its panel, as server-sent events."""
            self._head(200, "text/event-stream", None)
            if self.command == "HEAD":
                return
            said = ""
            with suppress(ConnectionError):
                while not desk.closed.is_set():
                    news = desk.news
                    answer = desk.answer(path)
                    told = json.dumps({"page": answer.version, "panel": answer.panel})
                    self.wfile.write(f"data: {told}\n\n".encode() if told != said else b":\n\n")
                    self.wfile.flush()
                    said = told
                    desk.wait(news, BREATH)

        def log_message(self, format: str, *args: object) -> None:
            """Say nothing: an author watches the page, not the terminal."""

    return Handler


def _page(path: str) -> str:
    """The file at an address below the site's top: a folder's is its index."""
    path = path.removeprefix("/")
    return f"{path}index.html" if not path or path.endswith("/") else path


def _hostname(netloc: str) -> str:
    return netloc.rpartition(":")[0] if ":" in netloc else netloc
