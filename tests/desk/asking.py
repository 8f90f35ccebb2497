"""The application asked as a browser asks it, without a network: one request, one answer."""

from __future__ import annotations

import asyncio
import atexit
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from msgspec import Struct

from cutmarks.cli.templates import find_template
from cutmarks.desk.app import Desk, application
from cutmarks.desk.workers import Workers
from cutmarks.job.load import OwnFiles

TOKEN = "a-token-of-the-tests"
HOST = "127.0.0.1:8000"
WORKERS = Workers()
"""The processes of all desks: to begin one takes longer than most tests."""
atexit.register(WORKERS.close)


class Answered(Struct, dict=True):
    """An answer: its number, its headers by their names in small letters, its body."""

    status: int
    heads: dict[str, str]
    body: bytes

    @property
    def json(self) -> dict[str, Any]:
        """The values in it."""
        return json.loads(self.body)


def desk_on(folder: Path) -> Desk:
    """A desk on a folder, away from the user's own tools."""
    none: OwnFiles = {"tools": None, "fittings": None, "shop": None}
    printers = folder / ".config" / "printers.json"
    made = Desk(folder, TOKEN, lambda _: none, lambda name: find_template(name).read_bytes(), printers)
    made.port, made.workers = 8000, WORKERS
    return made


def request(
    desk: Desk, method: str, path: str, heads: Mapping[str, str] | None = None, body: bytes = b"", host: str = HOST
) -> Answered:
    """One request, with these headers beside the host; `path` is sent as it stands."""
    given = {"host": host, **({"content-length": str(len(body))} if method == "POST" else {}), **(heads or {})}
    scope = {
        "type": "http",
        "asgi": {"version": "3.0"},
        "http_version": "1.1",
        "method": method,
        "scheme": "http",
        "path": path,
        "raw_path": path.encode("utf-8", "surrogateescape"),
        "query_string": b"",
        "root_path": "",
        "headers": [(name.encode(), value.encode("latin-1")) for name, value in given.items()],
        "client": ("127.0.0.1", 1),
        "server": ("127.0.0.1", 8000),
    }
    said: list[dict[str, Any]] = []

    async def receive() -> dict[str, Any]:
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message: Any) -> None:
        said.append(dict(message))

    asyncio.run(application(desk)(scope, receive, send))
    heads_of = {name.decode().lower(): value.decode("latin-1") for name, value in said[0]["headers"]}
    return Answered(said[0]["status"], heads_of, b"".join(one.get("body", b"") for one in said[1:]))


def get(desk: Desk, path: str = "", **more: Any) -> Answered:
    """A page of our own."""
    return request(desk, "GET", f"/{TOKEN}/{path}", **more)


def do(desk: Desk, action: str, job: str, **given: object) -> dict[str, Any]:
    """What the page's script asks."""
    heads = {"content-type": "application/json", "origin": f"http://{HOST}"}
    answer = request(desk, "POST", f"/{TOKEN}/do/{action}/{job}", heads, json.dumps(given).encode())
    assert answer.status == 200, (answer.status, answer.body)
    return answer.json
