"""What a change does to settled steps is shown beside the entry before it is done; taken or left by keyboard."""

import re

import pytest

expect = pytest.importorskip("playwright.sync_api").expect

LAPTOP, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}
WAIST = '[data-measure="waist girth"]'


def settled(screen, site, size=LAPTOP, **more):
    """The demo's make with every step settled, and its address."""
    one = screen(site, size, **more)
    one.go("/")
    one.page.get_by_role("link", name=re.compile("Concert dress for the alto")).first.click()
    one.page.wait_for_url(re.compile("/make/"))
    make = re.search(r"/make/[^/]+", one.page.url)[0]
    csrf = one.page.locator('meta[name="csrf"]').get_attribute("content")
    for key in ("measure", "pattern", "size", "alter", "walk"):
        assert one.page.request.post(f"{site.root}{make}/settle/{key}",
                                     headers={"x-toilewright": csrf, "origin": site.root}).ok
    return one, make


def waist(page):
    return page.locator(f'{WAIST} input[data-side=""]')


def test_a_measure_is_not_saved_before_what_it_changes_is_taken(screen, site):
    one, make = settled(screen, site)
    page = one.go(f"{make}/measure")
    was = waist(page).input_value()
    waist(page).fill("82")
    waist(page).press("Enter")
    before = page.locator(f"{WAIST} .before")
    expect(before).to_contain_text("The ease at the waist")
    expect(before).to_contain_text("You have settled these")
    expect(waist(page)).to_have_value("82")
    expect(waist(page)).to_be_focused()
    expect(page.get_by_role("button", name=re.compile("^Settled"))).to_be_disabled()
    assert one.axe() == []
    one.keep("ahead-measure-laptop")
    # Left: nothing was changed.
    waist(page).press("Escape")
    expect(before).to_have_count(0)
    expect(waist(page)).to_have_value(was)
    page.reload()
    expect(waist(page)).to_have_value(was)
    # Taken with a second Enter, and on to the next number; then the tape tells why.
    waist(page).fill("82")
    waist(page).press("Enter")
    before.wait_for()
    with page.expect_response(re.compile("/state")):
        waist(page).press("Enter")
    expect(before).to_have_count(0)
    expect(waist(page)).not_to_be_focused()
    page.reload()
    expect(waist(page)).to_have_value("82.0")
    one.go(f"{make}/size")
    expect(page.get_by_text(re.compile("a number on the tape sheet, was changed on 20"))).to_be_visible()
    one.keep("ahead-why")


def test_one_at_a_time_on_the_phone_a_number_waits_before_she_goes_on(screen, site):
    one, make = settled(screen, site, PHONE, theme="dark", has_touch=True)
    page = one.go(f"{make}/measure")
    while not waist(page).is_visible():
        page.locator("#previous" if page.locator("#next").is_disabled() else "#next").click()
    waist(page).fill("82")
    page.locator("#next").click()
    before = page.locator(f"{WAIST} .before")
    expect(before).to_contain_text("The ease at the waist")
    expect(waist(page)).to_be_visible()
    assert one.axe() == [] and not one.wide()
    one.keep("ahead-measure-phone-dark")
    before.get_by_role("button", name="Leave it").click()
    page.reload()
    expect(waist(page)).not_to_have_value("82.0")


def test_on_a_persons_own_page_the_make_is_named_and_standing_alterations_tell(screen, site):
    one, _ = settled(screen, site, PHONE)
    page = one.go("/bodies")
    page.get_by_role("link", name="the alto").first.click()
    page.wait_for_url(re.compile("/body/"))
    page.get_by_role("button", name="One at a time").click()
    hip = page.locator('[data-measure="hip girth"]')
    field = hip.locator('input[data-side=""]')
    field.fill("109")
    field.press("Tab")
    expect(hip.locator(".before h3")).to_have_text("In Concert dress for the alto")
    one.keep("ahead-body-phone")
    hip.get_by_role("button", name="Leave it").click()
    expect(field).to_have_value("102.0")
    # A number that nothing rests on is saved at once.
    wrist = page.locator('[data-measure="wrist girth"]')
    wrist.locator('input[data-side=""]').fill("16")
    with page.expect_response(re.compile("/state")):
        wrist.locator('input[data-side=""]').press("Tab")
    expect(page.locator(".before")).to_have_count(0)
    page.get_by_role("button", name="Take away forward shoulder").click()
    before = page.locator("[data-name='forward shoulder'] .before")
    expect(before).to_contain_text("Forward shoulder is not made any more.")
    assert one.axe() == [] and not one.wide()
    one.keep("ahead-wish-phone")
    page.keyboard.press("Escape")
    expect(before).to_have_count(0)
    page.reload()
    expect(page.get_by_role("button", name="Take away forward shoulder")).to_be_visible()


def test_undoing_a_size_tells_what_it_changes(screen, site):
    one, make = settled(screen, site)
    page = one.go(f"{make}/size")
    page.get_by_role("radio", name="6", exact=True).press("Space")
    page.get_by_role("button", name="Take it").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Size 6")
    page.wait_for_load_state()
    undo = page.get_by_role("button", name="Undo")
    expect(undo).to_have_attribute("title", "Undo: size 6")
    undo.click()
    before = page.locator(".before")
    expect(before).to_contain_text("The size to cut is 5 instead of 6.")
    expect(before.get_by_role("button", name="Take it")).to_be_focused()
    assert one.axe() == []
    one.keep("ahead-undo")
    page.keyboard.press("Escape")
    expect(before).to_have_count(0)
    expect(page.get_by_role("heading", level=1)).to_contain_text("Size 6")
    undo.click()
    before.wait_for()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Size 5")
    # The history tells it too, beside the entries that would be others.
    one.go(f"/thing/{make.split('/')[-1]}/history")
    page.get_by_role("link", name=re.compile("Look at it then size 6")).first.click()
    expect(page.locator("#further")).to_contain_text("The size to cut is 6 instead of 5.")
    one.keep("ahead-history")


def test_a_changed_chart_tells_after_the_file_was_read_again_and_is_undone_beside_it(screen, site):
    one, make = settled(screen, site)
    page = one.go(f"{make}/pattern")
    page.locator("#chart summary").click()
    cell = page.get_by_role("textbox", name="upper bust girth, size 5", exact=True)
    was = cell.input_value()
    cell.fill("86")
    cell.press("Tab")
    since = page.locator("#since")
    expect(since).to_contain_text("The size to cut is", timeout=60000)
    assert one.axe() == []
    one.keep("ahead-pattern")
    since.get_by_role("button", name="Undo it").click()
    page.wait_for_load_state()
    expect(page.locator("#since .before")).to_have_count(0)
    page.locator("#chart summary").click()
    expect(cell).to_have_value(was)
