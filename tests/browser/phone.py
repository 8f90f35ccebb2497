"""A phone for the tests: Debian's chromium, 360 x 740 with touch, and a wall page on it, worked as a thumb works it."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

from msgspec import Struct, field

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Page

WIDE, HIGH = 360, 740
BROWSERS = ("chromium", "chromium-browser", "google-chrome")


def browser_path() -> str | None:
    """Where a browser stands on this machine; None where there is none."""
    return next((found for name in BROWSERS if (found := shutil.which(name))), None)


def missing() -> str:
    """Why no page can be tried on this machine, in one sentence; "" where it can."""
    try:
        import playwright.sync_api  # noqa: F401 - whether it is there is asked
    except ImportError:
        return "playwright is not installed: pip install -e '.[dev]'"
    return "" if browser_path() else "no chromium on this machine: apt-get install chromium"


@contextmanager
def browser() -> Iterator[Browser]:
    """The browser, with nothing of a user in it."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        # As root it has no sandbox, and a container has little shared memory.
        switches = ["--no-sandbox", "--disable-dev-shm-usage"]
        opened = driver.chromium.launch(executable_path=browser_path(), args=switches)
        try:
            yield opened
        finally:
            opened.close()


CLICKS = "(window.performance.eventCounts ? window.performance.eventCounts.get('click') : null)"
"""How many clicks the page has been told of."""


class Phone(Struct, dict=True):
    """One phone: what it keeps stays with it from page to page."""

    context: BrowserContext
    page: Page
    asked_for: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    def open(self, at: Path | str) -> None:
        """Open a page from the phone's own files, or an address."""
        self.page.goto(f"file://{at}" if isinstance(at, Path) else at)

    def tap(self, what: str) -> None:
        """Tap what is seen; only what is in view of a finger can be tapped."""
        clicks = self.page.evaluate(CLICKS)
        self.page.locator(what).locator("visible=true").first.tap()
        if clicks is not None:
            # A browser that is busy makes a click of a touch a little later: what comes next must not overtake it.
            self.page.wait_for_function(f"() => {CLICKS} !== {clicks}")

    def text(self, what: str) -> str:
        """The words of what is seen."""
        return " ".join(self.page.locator(what).locator("visible=true").first.inner_text().split())

    def sees(self, what: str) -> bool:
        """Whether any of it is seen."""
        return self.page.locator(what).locator("visible=true").count() > 0

    def go(self, piece: str) -> None:
        """Take a piece from the list."""
        self.tap("[data-do=list]")
        self.page.locator("[data-listed]", has=self.page.get_by_text(piece, exact=True)).first.tap()

    def step(self, box: str, times: int) -> None:
        """Tap the plus, or the minus, beside a box so many times."""
        for _ in range(abs(times)):
            self.tap(f'[data-do=step][data-box="{box}"][data-by="{1 if times > 0 else -1}"]')

    def as_expected(self, reading: str) -> None:
        """Say of a reading that it was read, and is as expected; or take that back."""
        self.tap(f'[data-do=as][data-stem="{reading}"]')

    def sent(self, initials: str = "JK") -> str:
        """What the page sends back."""
        self.tap("[data-do=list]")
        self.tap('a[href="#v-send"]')
        self.page.locator("#initials").fill(initials)
        self.tap("[data-do=refresh]")
        return str(self.page.locator("#sent").input_value())


@contextmanager
def phone(opened: Browser, **options: Any) -> Iterator[Phone]:
    """A phone with an empty store; what it asks the network for, and what its script trips over, is written down."""
    context = opened.new_context(
        viewport={"width": WIDE, "height": HIGH}, has_touch=True, is_mobile=True, device_scale_factor=2, **options
    )
    try:
        page = context.new_page()
        held = Phone(context, page)
        page.on("request", lambda request: held.asked_for.append(request.url))
        page.on("pageerror", lambda error: held.errors.append(str(error)))
        page.on("console", lambda said: held.errors.append(said.text) if said.type == "error" else None)
        yield held
    finally:
        context.close()
