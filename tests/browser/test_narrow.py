"""Cloth that is too narrow for a piece: the cloth step says so, divides it at one touch, and lays it."""

import re

import pytest
from browser.conftest import LAPTOP, PHONE
from playwright.sync_api import expect


@pytest.mark.parametrize(("size", "theme"), [(LAPTOP, "light"), (PHONE, "dark")], ids=["laptop", "phone"])
def test_pieces_are_divided_laid_and_made_whole_again(site, screen, size, theme):
    s = screen(site, size, theme=theme)
    link = s.go("/").locator('a[href^="/make/"]').first.get_attribute("href")
    page = s.go(f"/make/{re.search('/make/([^/]+)', link)[1]}/cloth")
    expect(page.locator("[data-join-pieces]")).to_have_count(0)
    width = page.locator('[data-set="width"]').first
    width.fill("112")
    width.press("Tab")
    told = page.locator("#lay .narrow")
    expect(told).to_contain_text("110.0 cm between its selvedges")
    expect(told).to_contain_text("skirt tier in 2 parts")
    page.locator("[data-join-pieces]").scroll_into_view_if_needed()
    assert s.axe() == [] and not s.wide()
    s.keep(f"narrow-{theme}")
    page.locator("[data-join-pieces]").press("Enter")
    expect(told).to_have_count(0)
    expect(page.locator("#lay-out")).to_be_focused()
    row = page.locator("#extras-list .extras > li").first
    expect(row).to_contain_text("skirt tier")
    expect(row).to_contain_text("Sew the join before anything else", use_inner_text=False)
    page.get_by_label("How long to look").select_option("3")
    page.locator("#lay-out").click()
    expect(page.locator(".lay-picture").first).to_be_visible(timeout=90000)
    expect(page.get_by_text("Everything was checked, and holds").first).to_be_visible()
    expect(page.locator(".cuts").first).to_contain_text("waistband 2")
    s.keep(f"narrow-laid-{theme}")
    out = page.locator('[data-take-out="extras"]')
    for left in (1, 0):
        out.first.press("Enter")
        expect(out).to_have_count(left)
    expect(told).to_contain_text("waistband in 2 parts")
    assert s.complaints == [] and s.strangers == []


def test_widths_are_compared_with_joins_told(site, screen):
    s = screen(site, LAPTOP)
    link = s.go("/").locator('a[href^="/make/"]').first.get_attribute("href")
    page = s.go(f"/make/{re.search('/make/([^/]+)', link)[1]}/cloth")
    page.locator("#compare").click()
    rows = page.locator("#widths tbody tr")
    expect(rows.first).to_contain_text("with joins: skirt tier in 2 parts", timeout=180000)
    expect(rows.last).not_to_contain_text("with joins")
    assert s.axe() == []
    s.keep("narrow-widths")
    rows.first.get_by_role("button").press("Enter")
    expect(page.locator("#lay .narrow")).to_contain_text("waist tie in 2 parts")
    assert s.complaints == []
