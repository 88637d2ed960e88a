"""The cloth step: a cloth chosen, the lay looked for, stopped, kept, cut by its order, and what to buy."""

import re

import pytest
from browser.conftest import LAPTOP, PHONE
from playwright.sync_api import expect


def cloth_step(s):
    page = s.go("/")
    link = page.locator('a[href^="/make/"]').first
    make = re.search(r"/make/([^/]+)", link.get_attribute("href"))[1]
    return s.go(f"/make/{make}/cloth"), make


def lay_it(page, seconds="3"):
    page.get_by_label("How long to look").select_option(seconds)
    page.locator("#lay-out").click()


@pytest.mark.parametrize(("size", "theme"), [(LAPTOP, "light"), (PHONE, "dark")], ids=["laptop", "phone"])
def test_a_lay_is_found_checked_ticked_and_there_after_a_reload(site, screen, size, theme):
    s = screen(site, size, theme=theme)
    page, _ = cloth_step(s)
    expect(page.get_by_role("heading", name="How to lay it")).to_be_visible()
    expect(page.get_by_text("There is no lay yet.")).to_be_visible()
    assert s.axe() == [] and not s.wide()
    width = page.get_by_label(re.compile("Width on sale")).first
    width.fill("140")
    with page.expect_response("**/change"):
        width.press("Tab")
    lay_it(page)
    expect(page.locator(".lay-picture").first).to_be_visible(timeout=60000)
    expect(page.get_by_text("Everything was checked, and holds").first).to_be_visible()
    expect(page.get_by_text("cut away from your hand")).to_be_visible()
    first = page.locator("[data-tick]").first
    first.check()
    expect(page.locator(".cuts .done").first).to_contain_text("1 of")
    assert s.axe() == [] and not s.wide()
    s.keep(f"cloth-{'phone' if size is PHONE else 'laptop'}")
    short = page.locator(".lay .number").first.inner_text()
    page.reload()
    expect(page.locator(".lay .number").first).to_have_text(short)
    expect(page.locator("[data-tick]").first).to_be_checked()


def test_a_search_that_is_stopped_keeps_the_best_lay(site, screen):
    s = screen(site)
    page, _ = cloth_step(s)
    lay_it(page, "600")
    expect(page.locator("#lay-progress")).to_contain_text("so far", timeout=60000)
    page.locator("#lay-progress").get_by_role("button").first.click()
    expect(page.get_by_text("You stopped the search")).to_be_visible(timeout=30000)
    expect(page.locator(".lay-picture").first).to_be_visible()


def test_the_lay_is_taken_along_as_files(site, screen):
    s = screen(site)
    page, _ = cloth_step(s)
    lay_it(page)
    expect(page.locator(".lay-picture").first).to_be_visible(timeout=60000)
    for name, start in (("lay.pdf", b"%PDF"), ("lay.svg", b"<")):
        with page.expect_download() as found:
            page.locator(f'a[href$="/{name}"]').click()
        with open(found.value.path(), "rb") as file:
            assert file.read(4).startswith(start)


def test_two_browsers_do_not_overwrite_each_other_silently(site, screen):
    one, two = screen(site), screen(site)
    (mine, _), (hers, _) = cloth_step(one), cloth_step(two)
    answers = []
    for page, fold in ((mine, "open"), (hers, "lengthwise")):
        with page.expect_response("**/change") as found:
            page.locator('[data-set="fold"]').first.select_option(fold)
        answers.append(found.value.status)
    assert answers[0] == 200 and 400 <= answers[1] < 500
    expect(hers.locator("#alarms")).to_contain_text("on another page meanwhile")
    hers.reload()
    expect(hers.locator('[data-set="fold"]').first).to_have_value("open")
