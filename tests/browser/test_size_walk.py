"""Size, ease and the walk in a real browser: sizes stepped through by keyboard, a blend taken, a seam walked."""

import re

import pytest

expect = pytest.importorskip("playwright.sync_api").expect

LAPTOP, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}


def at(screen, site, step, size=LAPTOP, **more):
    """The demo's make at a step."""
    one = screen(site, size, **more)
    one.go("/")
    one.page.get_by_role("link", name=re.compile("Concert dress for the alto")).first.click()
    one.page.wait_for_url(re.compile("/make/"))
    make = re.search(r"/make/([^/]+)", one.page.url)[1]
    one.go(f"/make/{make}/{step}")
    return one


def end_of_cloth(page, place):
    return float(page.locator(f'[data-place="{place}"] .cloth').get_attribute("width").rstrip("%"))


def amount(page, place):
    return page.locator(f'[data-place="{place}"] [data-say="amount"]')


def test_sizes_are_stepped_through_by_keyboard_and_one_is_taken(screen, site):
    one = at(screen, site, "size")
    page = one.page
    assert one.axe() == []
    one.keep("size-laptop")
    before = end_of_cloth(page, "waist")
    page.get_by_role("radio", name="5 as advised").focus()
    page.keyboard.press("ArrowRight")
    expect(amount(page, "waist")).to_have_text("8.0 cm")
    assert end_of_cloth(page, "waist") > before
    expect(page.get_by_role("radio", name="One size")).to_be_checked()
    ahead = page.locator("#ahead")
    expect(ahead).to_contain_text("The size to cut is 6 instead of 5.")
    expect(ahead).to_contain_text("Bust dart height is made by 1.6 cm instead of 2.3 cm")
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    expect(page.locator('[data-place="waist"] .drawn')).to_have_attribute("data-state", "short")
    expect(ahead).to_contain_text("less than the handbooks' least of 5.1 cm")
    assert one.axe() == []
    one.keep("size-looking")
    # Left: nothing was saved.
    page.get_by_role("button", name="Leave it").click()
    expect(page.locator("#ahead")).to_be_hidden()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Size 5")
    page.get_by_role("radio", name="6", exact=True).press("Space")
    page.get_by_role("button", name="Take it").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Size 6")
    page.wait_for_load_state()
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Size 5")


def test_a_blend_is_taken_on_the_phone(screen, site):
    one = at(screen, site, "size", PHONE, theme="dark")
    page = one.page
    assert not one.wide()
    page.get_by_role("radio", name="Blended").check()
    hip = page.get_by_role("group", name="Size at the hip")
    hip.get_by_role("radio", name="6", exact=True).press("Space")
    expect(amount(page, "hip")).to_have_text("9.8 cm")
    expect(amount(page, "bust")).not_to_have_text("11.6 cm")
    expect(page.locator("#ahead")).to_contain_text("bust 5, waist 5, hip 6 instead of 5")
    assert one.axe() == [] and not one.wide()
    one.keep("size-phone-dark")
    page.get_by_role("button", name="Take it").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("bust 5, waist 5, hip 6")
    expect(page.get_by_role("radio", name="Blended")).to_be_checked()


def test_an_ease_of_her_own_and_a_touch_on_the_tape(screen, site):
    page = at(screen, site, "size").page
    bust = page.locator('[data-place="bust"]')
    bust.get_by_text("Another ease").click()
    bust.get_by_label("Ease you want at the bust").fill("roomy")
    page.keyboard.press("Enter")
    expect(page.locator("#ahead")).to_contain_text("cannot be read as a length")
    expect(page.get_by_role("button", name="Take it")).to_be_disabled()
    bust.get_by_label("Ease you want at the bust").fill("11")
    page.keyboard.press("Enter")
    expect(bust.locator(".wanted")).to_have_count(1)
    page.get_by_role("button", name="Take it").click()
    expect(page.locator("#ahead")).to_be_hidden()
    expect(bust).to_contain_text("you want 11.0 cm")
    picture = page.locator('[data-place="hip"] .strip-picture')
    picture.scroll_into_view_if_needed()
    box = picture.bounding_box()
    seven = float(page.locator('[data-place="hip"] .size[data-size="7"]').get_attribute("x").rstrip("%"))
    page.mouse.click(box["x"] + box["width"] * seven / 100, box["y"] + 30)
    expect(amount(page, "hip")).to_have_text("14.6 cm")
    expect(page.get_by_role("radio", name="7", exact=True)).to_be_checked()


def test_a_seam_is_walked(screen, site):
    one = at(screen, site, "walk")
    page = one.page
    expect(page.get_by_role("heading", level=1)).to_have_text(re.compile(r"All \d+ seams sew"))
    assert one.axe() == []
    one.keep("walk-laptop")
    page.get_by_role("button", name="Walk it: armhole").click()
    walk = page.locator("#walk-armhole seam-walk")
    expect(walk.locator("svg, canvas").first).to_be_visible()
    assert one.axe() == []
    one.keep("walk-armhole")
    page.get_by_role("button", name="Put it down: armhole").click()
    expect(walk).to_be_hidden()


def test_the_walk_on_the_phone(screen, site):
    one = at(screen, site, "walk", PHONE, theme="dark")
    one.page.get_by_text("Closer: waist").first.click()
    one.page.get_by_role("button", name="Walk it: waist", exact=True).click()
    expect(one.page.locator("#walk-waist svg")).to_be_visible()
    assert one.axe() == [] and not one.wide()
    one.keep("walk-phone-dark")
