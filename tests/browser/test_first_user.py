"""What the first person at the table stumbled over."""

import re

from browser.conftest import PHONE
from playwright.sync_api import expect


def made(screen):
    screen.go("/")
    return re.search(r"/make/\w+", screen.page.locator("h2 a").first.get_attribute("href"))[0]


def test_two_devices_at_one_number_are_asked_in_words_and_see_what_is_kept(site, screen):
    laptop, phone = screen(site), screen(site, PHONE, theme="dark")
    laptop.go("/bodies")
    body = laptop.page.locator("h2 a").first.get_attribute("href")
    for one in (laptop, phone):
        one.go(body)
    phone.page.locator("#singly").click()
    for one, value in ((laptop, "58.5"), (phone, "59")):
        field = one.page.locator("#m-arm-length")
        field.fill(value)
        field.press("Tab")
        if one is laptop:
            expect(one.page.locator("#notices")).to_have_text("Saved")
    question = phone.page.get_by_role("dialog")
    expect(question).to_contain_text("arm length: changed elsewhere")
    expect(question).to_contain_text("Keep theirs: 58.5 cm")
    expect(question).to_contain_text("Take mine: 59.0 cm")
    box = question.bounding_box()
    assert abs(box["x"] + box["width"] / 2 - PHONE["width"] / 2) < 2, "in the middle of the screen"
    question.locator('button[value="theirs"]').click()
    expect(phone.page.locator("#m-arm-length")).to_have_value("58.5")


def test_a_refused_number_is_not_said_to_be_saving(site, screen):
    one = screen(site)
    one.go("/bodies")
    one.page.locator("h2 a").first.click()
    field = one.page.locator("#m-hip-girth")
    field.fill("10..2")
    field.press("Tab")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(one.page.locator("#notices")).to_be_hidden()


def test_words_for_the_diary_outlast_a_page_shown_anew_and_an_undo_says_what_it_took(site, screen):
    one = screen(site, PHONE)
    page = one.go(f"{made(one)}/diary")
    page.locator('input[name="kind"][value="worked"]').check()
    page.locator("#entry textarea").fill("The neck lies well")
    page.locator("#wear").click()
    expect(page.get_by_text("Worn once")).to_be_visible()
    expect(page.locator("#entry textarea")).to_have_value("The neck lies well")
    expect(page.locator('input[name="kind"][value="worked"]')).to_be_checked()
    page.locator("#entry button.main").click()
    expect(page.locator(".said")).to_have_text("The neck lies well")
    expect(page.locator("#entry textarea")).to_have_value("")
    page.wait_for_load_state()
    page.locator('[data-step="undo"]').click()
    expect(page.locator("#notices")).to_contain_text("Undone: diary: What worked")
    expect(page.locator(".said")).to_have_count(0)


def test_the_tape_stays_true_while_an_amount_is_changed(site, screen):
    one = screen(site)
    make = made(one)
    page = one.go(f"{make}/print")
    expect(page.locator(".which")).to_contain_text("Concert dress")
    for step in ("alter", "walk"):
        page.evaluate("""async ([make, step]) => (await import("/static/js/api.js")).post(`${make}/settle/${step}`)""",
                      [make, step])
    page = one.go(f"{make}/alter")
    expect(page.locator('.tape [data-step-key="walk"]')).to_have_class("settled")
    amount = page.get_by_label("Amount of lengthen or shorten")
    amount.fill("2.5")
    amount.press("Enter")
    expect(page.locator('.tape [data-step-key="walk"]')).to_have_class("again")
    expect(page.locator("#notices")).to_contain_text("Look again: Alter · Walk")


def test_a_phone_that_is_new_here_starts_with_her_unit_and_shows_every_place(site, screen):
    laptop = screen(site)
    laptop.page.locator('[data-look="unit"]').click()
    expect(laptop.page.locator("html")).to_have_attribute("data-unit", "in")
    phone = screen(site, PHONE)
    page = phone.go("/")
    expect(page.locator("html")).to_have_attribute("data-unit", "in")
    last = page.locator(".places a").last.bounding_box()
    assert last["x"] + last["width"] <= PHONE["width"]
