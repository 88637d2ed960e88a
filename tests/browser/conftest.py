"""A real program in a process of its own, and a real headless browser that can reach nothing else."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from urllib.parse import urlsplit

import pytest

pytest.importorskip("playwright", reason="the browser tests need what `python3 start.py test` installs")
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import sync_playwright

from toilewright.app.running import Lock

LAPTOP, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}
SCREENS = Path(os.environ.get("TOILEWRIGHT_SCREENS", "")) if os.environ.get("TOILEWRIGHT_SCREENS") else None
"""Where pictures of the screens are kept to be looked at; nowhere unless asked for."""


def chromium():
    found = os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("google-chrome")
    assert found, "The browser tests need Chromium; `python3 start.py test` installs Debian's package chromium."
    return found


@pytest.fixture(scope="session")
def browser():
    with sync_playwright() as p:
        one = p.chromium.launch(executable_path=chromium(), args=[
            "--no-sandbox", "--disable-gpu", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"])
        yield one
        one.close()


class Site:
    """The program, started over a store of its own.

    Attributes:
        root: its address.
        folder: where its store lies.
    """

    def __init__(self, folder, *words):
        self.folder = folder
        self.process = subprocess.Popen(
            [sys.executable, "-m", "toilewright", "worktable", "--port", "0", "--no-browser", *words],
            env={**os.environ, "TOILEWRIGHT_HOME": str(folder), "PYTHONWARNINGS": "error"}, stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT, text=True)
        self.said = []
        for line in self.process.stdout:
            self.said.append(line)
            found = re.search(r"http://127\.0\.0\.1:\d+/\S*", line)
            if found:
                self._first = found[0]
                self.root = self._first.partition("/in")[0]
                break
        else:
            raise AssertionError("The program did not start: " + "".join(self.said))

    @property
    def address(self):
        """Where a browser comes in; each of these is good for one."""
        first, self._first = self._first, None
        return first or Lock(self.folder).find()

    def stop(self):
        self.process.terminate()
        try:
            self.process.wait(20)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait()
            raise
        finally:
            self.process.stdout.close()

    def kill(self):
        self.process.kill()
        self.process.wait()
        self.process.stdout.close()


@pytest.fixture(scope="session")
def demo_store(tmp_path_factory):
    """A store with the choir's demo in it, made once."""
    folder = tmp_path_factory.mktemp("demo-store")
    site = Site(folder, "--demo")
    site.stop()
    return folder


@pytest.fixture
def site(tmp_path, demo_store):
    """The program over a fresh copy of the demo's store."""
    folder = tmp_path / "home"
    shutil.copytree(demo_store, folder)
    one = Site(folder)
    yield one
    one.stop()


@pytest.fixture
def empty_site(tmp_path):
    """The program over an empty store."""
    one = Site(tmp_path / "home")
    yield one
    one.stop()


class Screen:
    """A page of the browser that has come in by the key; `strangers` lists requests to any other place,
    `complaints` what the page's scripts complained of."""

    def __init__(self, browser, site, size, theme="light", **more):
        self.site = site
        self.strangers, self.complaints = [], []
        self.context = browser.new_context(viewport=size, color_scheme=theme, accept_downloads=True, **more)
        self.context.set_default_timeout(15000)
        self.page = self.context.new_page()
        self.page.on("request", self._watch)
        self.page.on("pageerror", lambda problem: self.complaints.append(str(problem)))
        self.page.on("console", self._console)
        self.page.goto(site.address)

    def _watch(self, request):
        if urlsplit(request.url).hostname not in ("127.0.0.1", None):
            self.strangers.append(request.url)

    def _console(self, message):
        # A refused change is an answer of ours, not a fault of the page.
        if message.type == "error" and "the server responded with a status of 4" not in message.text:
            self.complaints.append(message.text)

    def go(self, path):
        self.page.goto(self.site.root + path)
        return self.page

    def axe(self):
        """Everything that the WCAG 2.2 AA checks find on the page as it stands, with nothing half faded in."""
        self.page.emulate_media(reduced_motion="reduce")
        found = Axe().run(self.page, options={"runOnly": [
            "wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]})
        self.page.emulate_media(reduced_motion="null")
        return [(v["id"], v["help"], [n["html"][:160] for n in v["nodes"][:3]]) for v in found.response["violations"]]

    def keep(self, name):
        """Keep a picture of the whole page where somebody wants to look at it."""
        if SCREENS:
            SCREENS.mkdir(parents=True, exist_ok=True)
            self.page.screenshot(path=SCREENS / f"{name}.png", full_page=True)

    def wide(self):
        """Does the page stick out sideways?"""
        return self.page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth + 1")


@pytest.fixture
def screen(browser):
    """Opens pages: ``screen(site)``, ``screen(site, PHONE, theme="dark")``; nothing may be left complained of."""
    opened = []

    def open_one(site, size=None, theme="light", **more):
        one = Screen(browser, site, size or LAPTOP, theme, **more)
        opened.append(one)
        return one

    yield open_one
    for one in opened:
        assert one.strangers == []
        assert one.complaints == []
        one.context.close()
