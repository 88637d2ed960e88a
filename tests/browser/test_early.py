"""On a slow machine she is at the page before its scripts are; nothing of what she does then may be lost."""

import re

from playwright.sync_api import expect


class Held:
    """One script of a page that does not come before it is let."""

    def __init__(self, one, script):
        self._routes = []
        one.page.route(f"**/static/js/{script}", lambda route: self._routes.append(route))
        self.one, self.script = one, script

    def go(self, path):
        self.one.page.goto(self.one.site.root + path, wait_until="commit")
        return self.one.page

    def let(self):
        if not self._routes:
            with self.one.page.expect_request(f"**/static/js/{self.script}"):
                pass
        self._routes.pop().continue_()
        self.one.page.unroute(f"**/static/js/{self.script}")


def test_what_she_does_before_the_scripts_run_is_kept(site, screen):
    one = screen(site)
    body = one.go("/bodies").locator("h2 a").first.get_attribute("href")
    make = re.search(r"/make/\w+", one.go("/").locator("h2 a").first.get_attribute("href"))[0]

    measure = Held(one, "measure.js")
    page = measure.go(body)
    for name, text in (("arm-length", "58.5"), ("hip-girth", "10..2")):
        page.locator(f"#m-{name}").fill(text)
        page.locator(f"#m-{name}").press("Tab")
    page.locator("#m-wrist-girth").press_sequentially("16")
    measure.let()
    expect(page.locator("#m-hip-girth")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#m-hip-girth")).to_have_value("10..2")
    page.locator("#m-wrist-girth").press("Tab")
    expect(page.locator(".numbers:has(#m-wrist-girth) .kept")).to_be_visible()
    page = one.go(body)
    expect(page.locator("#m-arm-length")).to_have_value("58.5")
    expect(page.locator("#m-wrist-girth")).to_have_value("16.0")

    diary = Held(one, "diary.js")
    page = diary.go(f"{make}/diary")
    page.locator("#entry textarea").fill("The hem is level")
    page.locator("#entry button.main").click()
    page.locator("#entry button.main").click()
    diary.let()
    expect(page.locator(".said")).to_have_text(["The hem is level"])

    cards = Held(one, "cards.js")
    page = cards.go(f"{make}/cards")
    page.locator("[data-tick]").first.check()
    cards.let()
    expect(page.locator(".card .done").first).to_contain_text("1")
    expect(one.go(f"{make}/cards").locator("[data-tick]").first).to_be_checked()

    size = Held(one, "size.js")
    page = size.go(f"{make}/size")
    page.locator(".strip summary").first.click()
    ease = page.locator("[data-ease]").first
    ease.fill("7")
    ease.press("Tab")
    size.let()
    expect(page.locator("#ahead")).to_be_visible()
    expect(ease).to_have_value("7")
    page.locator("#leave").click()
