"""Takes the pictures of the real screens that README.md shows, on the choir's example.

    .toilewright-env/bin/python docs/take_pictures.py

Needs what `python3 start.py test` installs.
"""

import re
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from browser.conftest import LAPTOP, PHONE, Screen, Site, chromium
from playwright.sync_api import sync_playwright

FOLDER = Path(__file__).parent / "screens"
SETTLED = ("measure", "pattern", "size")


def take(screen, name):
    screen.page.wait_for_load_state("networkidle")
    screen.page.wait_for_timeout(1500)  # the word that something was saved goes away by itself
    screen.page.screenshot(path=FOLDER / f"{name}.png")


def laptop(browser, site):
    s = Screen(browser, site, LAPTOP)
    page = s.go("/")
    make = page.locator(".make").get_attribute("data-make")
    for step in SETTLED:
        s.go(f"/make/{make}/{step}")
        page.get_by_role("button", name=re.compile("^Settled")).click()
        page.wait_for_url(lambda url, step=step: not url.endswith(step))
    s.go("/")
    s.go(f"/make/{make}/measure")
    page.locator('[data-measure="bust girth"] input[data-side=""]').focus()
    take(s, "measure")
    s.go(f"/make/{make}/pattern")
    take(s, "pattern")
    s.go(f"/make/{make}/size")
    take(s, "size")
    s.go(f"/make/{make}/alter")
    page.get_by_role("button", name="bust dart height", exact=True).click()
    page.locator(".grip").first.focus()
    page.evaluate("scrollTo(0, 0)")
    take(s, "alter")
    s.go(f"/make/{make}/walk")
    page.get_by_role("button", name=re.compile("Walk it.*armhole", re.I)).click()
    page.locator("seam-walk input").first.fill("55")
    page.locator(".seam", has=page.locator("seam-walk")).evaluate("seam => seam.scrollIntoView()")
    take(s, "walk")
    s.go(f"/make/{make}/toile")
    page.locator('[name=room][value="bust"]').check()
    page.get_by_label("dart ends below the bust point").check()
    page.locator('[name="amount"]').fill("2")
    page.locator("#seen").evaluate("head => head.scrollIntoView()")
    take(s, "toile")
    s.go(f"/make/{make}/cloth")
    page.locator("#lay-out").click()
    page.locator(".lay-picture").first.wait_for(timeout=60000)
    page.locator("#lay-title").evaluate("head => head.scrollIntoView()")
    take(s, "cloth")
    return make


def phone(browser, site, make):
    s = Screen(browser, site, PHONE, theme="dark", device_scale_factor=2)
    page = s.go(f"/make/{make}/measure")
    page.wait_for_timeout(500)
    take(s, "phone-measure")
    s.go(f"/make/{make}/cards")
    page.get_by_role("heading", name=re.compile("High round back")).evaluate("head => head.scrollIntoView()")
    take(s, "phone-card")


def main():
    FOLDER.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as home, sync_playwright() as p:
        site = Site(Path(home), "--demo")
        browser = p.chromium.launch(executable_path=chromium(), args=["--no-sandbox"])
        try:
            phone(browser, site, laptop(browser, site))
        finally:
            browser.close()
            site.stop()


if __name__ == "__main__":
    main()
