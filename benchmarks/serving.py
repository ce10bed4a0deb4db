"""A server in a process of its own, asked over the loopback as a browser asks."""

from __future__ import annotations

import http.client
import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from types import TracebackType
from typing import Any, Self
from urllib.parse import urlsplit

BARE = """
import socket, uvicorn
from starlette.applications import Starlette
from starlette.responses import PlainTextResponse
from starlette.routing import Route

async def greet(request):
    return PlainTextResponse("hello")

listener = socket.create_server(("127.0.0.1", 0))
print(f"http://127.0.0.1:{listener.getsockname()[1]}/", flush=True)
config = uvicorn.Config(Starlette(routes=[Route("/{rest:path}", greet)]), log_level="warning")
uvicorn.Server(config).run(sockets=[listener])
"""
OK, SEE_OTHER = 200, 303
PAUSE_S, LONGEST_S = 0.005, 300.0


class Served:
    """A server that prints its address; ended with the block that it was begun for."""

    def __init__(self, command: list[str]) -> None:
        """Begin ``command``."""
        self._scratch = tempfile.TemporaryDirectory(prefix="serving-")
        # What the desk remembers of books that were open is none of the person's own.
        kept = {"XDG_CONFIG_HOME": self._scratch.name, "PYTHONUNBUFFERED": "1"}
        own = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        self._began = time.perf_counter()
        self._process = subprocess.Popen(
            command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=own | kept, text=True
        )
        assert self._process.stdout is not None
        self.address = self._process.stdout.readline().strip()
        where = urlsplit(self.address)
        self._origin = f"http://{where.netloc}"
        self._line = http.client.HTTPConnection(where.hostname or "", where.port, timeout=LONGEST_S)
        self._cookie = ""

    @classmethod
    def desk(cls, book: Path) -> Self:
        """Serve the desk over a book."""
        program = Path(sys.executable).with_name("wayfold")
        return cls([str(program), "desk", str(book), "--no-open"])

    @classmethod
    def bare(cls) -> Self:
        """Serve nothing but a greeting, with the same server."""
        return cls([sys.executable, "-c", BARE])

    def __enter__(self) -> Self:
        """Let this client in. Raises SystemExit for a server that ends, or never answers."""
        try:
            self._let_in()
        except BaseException:
            self._end()
            raise
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End the server."""
        self._end()

    def _let_in(self) -> None:
        where = urlsplit(self.address)
        while True:
            self._require_alive()
            try:
                status, headers, _ = self._ask("GET", f"{where.path}?{where.query}")
                break
            except ConnectionError:  # it does not listen yet, or ended meanwhile
                self._line.close()
                time.sleep(PAUSE_S)
        if status == SEE_OTHER:
            self._cookie = (headers["Set-Cookie"] or "").partition(";")[0]

    def _require_alive(self) -> None:
        command = " ".join(map(str, self._process.args))  # type: ignore[arg-type]
        if not self.address or self._process.poll() is not None:
            raise SystemExit(f"The server ended, code {self._process.wait(LONGEST_S)}: {command}")
        if time.perf_counter() - self._began > LONGEST_S:
            raise SystemExit(f"The server let nobody in within {LONGEST_S:.0f} s: {command}")

    def _end(self) -> None:
        self._line.close()
        self._process.terminate()
        self._process.wait()
        if self._process.stdout is not None:
            self._process.stdout.close()
        self._scratch.cleanup()

    def wait_for(self, path: str) -> float:
        """Ask until ``path`` is answered; gives seconds since the command began."""
        while self._ask("GET", path)[0] != OK:
            if time.perf_counter() - self._began > LONGEST_S:
                raise SystemExit(f"{path} was not answered within {LONGEST_S:.0f} s.")
            time.sleep(PAUSE_S)
        return time.perf_counter() - self._began

    def get(self, path: str) -> bytes:
        """Give what lies at ``path``."""
        return self._demand("GET", path)

    def send(self, method: str, path: str, **body: Any) -> bytes:
        """Send something as JSON, and give the answer."""
        return self._demand(method, path, json.dumps(body).encode())

    def processor_s(self) -> float:
        """User and system time of the process so far (Linux, proc(5))."""
        fields = Path(f"/proc/{self._process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def _demand(self, method: str, path: str, body: bytes | None = None) -> bytes:
        status, _, data = self._ask(method, path, body)
        if status != OK:
            raise SystemExit(f"{method} {path}: {status} {data.decode()[:400]}")
        return data

    def _ask(
        self, method: str, path: str, body: bytes | None = None
    ) -> tuple[int, http.client.HTTPMessage, bytes]:
        headers = {"Origin": self._origin, "Cookie": self._cookie}
        if body is not None:
            headers["Content-Type"] = "application/json"
        self._line.request(method, path, body, headers)
        answer = self._line.getresponse()
        return answer.status, answer.headers, answer.read()
