"""The alterations screen in a real browser: typed, pulled, refused, undone, by two at once, begun anew."""

import re

import pytest

expect = pytest.importorskip("playwright.sync_api").expect

LAPTOP, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}


def make_of(one):
    """Address of the demo's make."""
    one.go("/")
    one.page.get_by_role("link", name=re.compile("Concert dress for the alto")).first.click()
    one.page.wait_for_url(re.compile("/make/"))
    return re.search(r"/make/[^/]+", one.page.url)[0]


def at(screen, site, size=LAPTOP, **more):
    """The alterations of the demo's make."""
    one = screen(site, size, **more)
    one.go(make_of(one) + "/alter")
    return one


def amount(page, name):
    return page.get_by_role("textbox", name=f"Amount of {name}")


def row(page, name):
    return page.locator("article.row").filter(has=page.get_by_role("button", name=name, exact=True))


def saved(page):
    expect(page.locator("#notices")).to_contain_text("Saved")


def test_an_amount_is_changed_by_keyboard_refused_and_undone(site, screen):
    one = at(screen, site)
    page = one.page
    assert one.axe() == []
    one.keep("alter-laptop")
    field = amount(page, "bust dart height")
    expect(field).to_have_value("2.3 cm")
    field.fill("1,5")
    field.press("Tab")
    expect(field).to_have_value("1.5 cm")
    field.press("ArrowUp")
    expect(field).to_have_value("2.0 cm")
    field.fill("90")
    expect(row(page, "bust dart height").locator(".finding.stop")).to_contain_text("bust dart")
    expect(row(page, "high round back")).to_contain_text("Changes bodice back")
    assert one.axe() == []
    one.keep("alter-refused")
    field.press("Escape")
    expect(row(page, "bust dart height").locator(".finding.stop")).to_have_count(0)
    page.reload()
    expect(amount(page, "bust dart height")).to_have_value("2.0 cm")
    page.get_by_role("button", name="Undo").click()
    expect(amount(page, "bust dart height")).to_have_value("1.5 cm")


def test_the_grip_of_the_bust_dart_is_pulled(site, screen):
    one = at(screen, site)
    page = one.page
    row(page, "bust dart height").get_by_role("button", name="bust dart height", exact=True).click()
    grip = page.get_by_role("slider", name=re.compile("bust dart height"))
    expect(grip).to_be_visible()
    box = grip.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 10, steps=5)
    field = amount(page, "bust dart height")
    expect(field).not_to_have_value("2.3 cm")
    page.mouse.up()
    one.keep("alter-pulled")
    kept = field.input_value()
    saved(page)
    page.reload()
    expect(amount(page, "bust dart height")).to_have_value(kept)


def test_two_at_one_make_are_asked_and_then_see_the_same(site, screen):
    one = at(screen, site)
    other = screen(site)
    other.go(re.search(r"/make/.*", one.page.url)[0])
    for page, wanted in ((one.page, "2.5"), (other.page, "3")):
        amount(page, "lengthen or shorten").fill(wanted)
    amount(one.page, "lengthen or shorten").press("Enter")
    saved(one.page)
    amount(other.page, "lengthen or shorten").press("Enter")
    question = other.page.get_by_role("dialog")
    expect(question).to_be_visible()
    other.keep("alter-conflict")
    question.locator('button[value="mine"]').click()
    expect(amount(one.page, "lengthen or shorten")).to_have_value("3.0 cm", timeout=12000)


def test_started_from_last_time_on_the_phone(site, screen):
    one = screen(site, PHONE, theme="dark")
    page = one.page
    first = make_of(one).rpartition("/")[2]
    fresh = page.evaluate("""async (id) => {
      const { add, get } = await import("/static/js/api.js");
      const { document: { body, pattern } } = await get(`/things/${id}`);
      return (await add("make", { title: "Second dress", body, pattern }, "begun")).id; }""", first)
    one.go(f"/make/{fresh}/alter")
    assert not one.wide() and one.axe() == []
    one.keep("alter-phone-dark")
    page.get_by_role("button", name=re.compile("Take over all of")).click()
    expect(amount(page, "lengthen or shorten")).to_have_value("2.0 cm")
    expect(amount(page, "bust dart height")).to_have_value("2.3 cm")
    expect(page.locator("#stand")).to_contain_text(re.compile("All .* seams sew"))
    assert not one.wide() and one.axe() == []
    one.keep("alter-phone-dark-taken")
