"""The desk page for the tests: `cutmarks page` in a process of its own, and its page worked as a hand works it."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

from msgspec import Struct, field

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Locator, Page

PATIENCE_MS = 30_000
"""So long what is waited for may take on a busy machine."""


class Served(Struct, dict=True):
    """A running `cutmarks page`, and its address with the token."""

    process: subprocess.Popen[bytes]
    address: str

    @property
    def port(self) -> int:
        """Where it listens."""
        return int(self.address.split(":")[2].partition("/")[0])

    @property
    def token(self) -> str:
        """The first part of every address."""
        return self.address.rstrip("/").rpartition("/")[2]

    def kill(self) -> None:
        """End it as a power cut does."""
        self.process.kill()
        self.process.wait()


@contextmanager
def served(folder: Path) -> Iterator[Served]:
    """`cutmarks page` on a folder, away from the user's own tools, until it is told to end as Ctrl-C does."""
    surroundings = {**os.environ, "XDG_CONFIG_HOME": str(folder / ".config"), "PYTHONUNBUFFERED": "1"}
    with tempfile.TemporaryFile("w+", encoding="utf-8") as said:
        command = [sys.executable, "-m", "cutmarks", "page", str(folder), "--no-browser"]
        process = subprocess.Popen(command, stdout=said, stderr=subprocess.STDOUT, env=surroundings)
        try:
            yield Served(process, _address(process, said))
        finally:
            process.send_signal(signal.SIGINT)
            with suppress(subprocess.TimeoutExpired):
                process.wait(10)
            if process.poll() is None:
                process.kill()
                process.wait()


def _address(process: subprocess.Popen[bytes], said: TextIO) -> str:
    """The address that it says, once it has said it."""
    for _ in range(1800):
        said.seek(0)
        words = said.read()
        found = next((one for one in words.split() if one.startswith("http") and one.endswith("/")), "")
        if found:
            return found
        assert process.poll() is None, words
        time.sleep(0.1)
    raise AssertionError(words)


def _spelt(path: tuple[str | int, ...]) -> str:
    """A place of the job as the page names it."""
    return json.dumps([one.lower() if isinstance(one, str) else one for one in path], ensure_ascii=False)


class DeskPage(Struct, dict=True):
    """One tab with the desk page in it."""

    page: Page
    address: str
    errors: list[str] = field(default_factory=list)
    asked_for: list[str] = field(default_factory=list)

    def open(self, job: str) -> None:
        """Open a job, and wait until its form stands."""
        self.page.goto(f"{self.address}job/{job}")
        self.page.locator("body[data-formed]").wait_for(timeout=PATIENCE_MS)

    def begin(self, called: str, begin: str) -> None:
        """A new job, from the list of jobs."""
        self.page.goto(self.address)
        self.page.get_by_label("What it is called").fill(called)
        self.page.get_by_label(begin, exact=True).check()
        self.page.get_by_role("button", name="Begin", exact=True).click()
        self.page.locator("body[data-formed]").wait_for(timeout=PATIENCE_MS)

    def at(self, *path: str | int) -> Locator:
        """The field of a place of the job."""
        return self.page.locator(f"[data-path='{_spelt(path)}']")

    def says(self, *path: str | int) -> Locator:
        """The sentence beside it."""
        return self.page.locator(f"[data-says='{_spelt(path)}']").first

    def put(self, value: str, *path: str | int) -> None:
        """Type into a field, or choose in it, and wait until that is kept."""
        one = self.at(*path)
        if one.evaluate("one => one.tagName") == "SELECT":
            one.select_option(value)
        else:
            one.fill(value)
        self.kept()

    def kept(self) -> None:
        """Wait until nothing is on its way any more."""
        self.page.locator("#state", has_text="aved").wait_for(timeout=PATIENCE_MS)

    def press(self, name: str) -> None:
        """Press a button by its words."""
        self.page.get_by_role("button", name=name, exact=True).first.click()

    def drawn(self) -> str:
        """Wait until the drawing is of what stands in the form; its version."""
        for _ in range(PATIENCE_MS // 50):
            drawn = self.page.locator("body").get_attribute("data-drawn")
            now = self.page.evaluate(
                "async ([root, job]) => (await (await fetch(`${root}do/state/${job}`, {method: 'POST', headers:"
                " {'Content-Type': 'application/json'}, body: '{}'})).json()).version",
                [
                    self.page.locator("body").get_attribute("data-root"),
                    self.page.locator("body").get_attribute("data-job"),
                ],
            )
            if drawn == now:
                return str(now)
            self.page.wait_for_timeout(50)
        raise AssertionError(self.page.locator("#seen-note").inner_text())

    def made(self) -> list[str]:
        """Make the pack, and wait for it: the files that are offered."""
        self.press("Make the pack")
        self.page.locator("#pack a").first.wait_for(timeout=4 * PATIENCE_MS)
        return [one.get_attribute("href") or "" for one in self.page.locator("#pack a").all()]


def expect(what: Locator) -> Any:
    """What is to become so of something in a page, as long as a busy machine may take."""
    from playwright.sync_api import expect as expecting

    expecting.set_options(timeout=PATIENCE_MS)
    return expecting(what)


@contextmanager
def desk_page(opened: Browser, address: str, *, wide: int = 1280) -> Iterator[DeskPage]:
    """A tab of its own; what its script trips over, and what it asks of other hosts, is written down."""
    context = opened.new_context(viewport={"width": wide, "height": 800}, accept_downloads=True)
    try:
        page = context.new_page()
        page.set_default_timeout(PATIENCE_MS)
        held = DeskPage(page, address)
        page.on("pageerror", lambda error: held.errors.append(str(error)))
        page.on("console", lambda said: held.errors.append(said.text) if said.type == "error" else None)
        page.on(
            "request",
            lambda request: (
                None if request.url.startswith((address, "blob:", "data:")) else held.asked_for.append(request.url)
            ),
        )
        yield held
    finally:
        context.close()
