"""Strips, extra pieces and allowances on the cloth step, on a laptop and a phone, with keys alone."""

import re

import pytest
from browser.conftest import LAPTOP, PHONE
from playwright.sync_api import expect


@pytest.mark.parametrize(("size", "theme"), [(LAPTOP, "light"), (PHONE, "dark")], ids=["laptop", "phone"])
def test_a_tie_is_asked_for_corrected_seen_and_taken_out(site, screen, size, theme):
    s = screen(site, size, theme=theme)
    link = s.go("/").locator('a[href^="/make/"]').first.get_attribute("href")
    page = s.go(f"/make/{re.search('/make/([^/]+)', link)[1]}/cloth")
    expect(page.get_by_text("Nothing is cut beside the pattern's pieces yet.")).to_be_visible()
    page.locator("#extra-kind").select_option("tie")
    edge, length = page.locator('[data-option="edge"]'), page.locator('[data-option="length"]')
    expect(edge).to_be_visible()
    edge.fill(page.locator("#extra-edges option").first.get_attribute("value"))
    length.fill("sixty")
    length.press("Enter")
    expect(page.locator("#extra-slip")).to_contain_text("sixty")
    expect(length).to_be_focused()
    expect(length).to_have_value("sixty")
    assert s.axe() == [] and not s.wide()
    s.keep(f"extras-form-{theme}")
    length.fill("60")
    page.locator("#extra-more summary").click()
    page.locator('[data-option="name"]').fill("belt")
    page.locator("#extra-add button").focus()
    page.keyboard.press("Enter")
    row = page.locator("#extras-list .extras > li")
    expect(row).to_contain_text("62.0 cm by 6.0 cm")
    expect(row).to_contain_text("sewn to")
    expect(row).to_be_focused()
    expect(page.locator("#extra-slip")).to_be_hidden()
    page.get_by_label("Along which edges").fill("hem")
    page.get_by_label(re.compile("How wide")).fill("4")
    page.keyboard.press("Enter")
    expect(page.locator("#allowances-list li")).to_contain_text("4.0 cm")
    row.locator("summary").first.click()
    assert s.axe() == [] and not s.wide()
    s.keep(f"extras-{theme}")
    page.reload()
    for part in ("extras", "allowances"):
        page.locator(f'[data-take-out="{part}"]').press("Enter")
        expect(page.locator(f'[data-take-out="{part}"]')).to_have_count(0)
    expect(page.get_by_text("All edges are cut as the pattern has them.")).to_be_visible()
