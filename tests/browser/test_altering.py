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


def names(page):
    return [button.inner_text() for button in page.locator("article.row h3 button").all()]


def open_more(page, name):
    row(page, name).locator("details.more > summary").click()


def test_a_standing_one_is_changed_here_taken_back_left_out_and_another_made_standing(site, screen):
    one = at(screen, site)
    page = one.page
    field, tag = amount(page, "forward shoulder"), row(page, "forward shoulder").locator(".tag")
    more = row(page, "forward shoulder").get_by_role("button", name="More: forward shoulder")
    expect(tag).to_have_text("always")
    for _ in range(4):  # quicker than it is saved
        more.click()
    expect(field).to_have_value("3.0 cm")
    expect(tag).to_have_text("always, other here")
    page.wait_for_load_state("networkidle")
    with page.expect_response(re.compile("/change$")):
        row(page, "forward shoulder").get_by_role("button", name="back", exact=True).click()
    page.reload()
    expect(field).to_have_value("3.0 cm")
    expect(row(page, "forward shoulder").get_by_role("button", name="back", exact=True)).to_have_attribute(
        "aria-pressed", "true")
    assert names(page).count("forward shoulder") == 1
    open_more(page, "forward shoulder")
    row(page, "forward shoulder").get_by_role("button", name="As always again").click()
    expect(tag).to_have_text("always")
    expect(field).to_have_value("1.2 cm")
    row(page, "forward shoulder").get_by_role("button", name="Leave it out of this make").click()
    expect(row(page, "forward shoulder")).to_contain_text("Not made this time")
    tick = row(page, "forward shoulder").get_by_role("checkbox")
    expect(tick).not_to_be_checked()
    page.reload()
    tick.check()
    expect(row(page, "forward shoulder")).to_contain_text("Changes bodice front")
    open_more(page, "waist in or out")
    row(page, "waist in or out").get_by_role("button", name="Always for me").click()
    expect(row(page, "waist in or out").locator(".tag")).to_have_text("always")
    page.reload()
    assert names(page) == ["high round back", "forward shoulder", "waist in or out", "bust dart height",
                           "lengthen or shorten"]


def test_one_is_added_for_a_piece_and_taken_out_by_keyboard_alone(site, screen):
    one = at(screen, site)
    page = one.page
    page.locator("details.add > summary").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.type("waist sleeve short")
    expect(page.locator("#found")).to_contain_text("found")
    expect(page.get_by_role("button", name="Add: full bust")).to_be_hidden()
    page.get_by_role("button", name="Add: lengthen or shorten").focus()
    page.keyboard.press("Enter")
    fresh = page.locator("article.row").nth(5)
    field = fresh.get_by_label("Amount of lengthen or shorten")
    expect(field).to_be_focused()
    expect(fresh).to_have_class(re.compile("chosen"))
    if not fresh.locator("details.more").evaluate("more => more.open"):
        fresh.locator("details.more > summary").press("Enter")
    with page.expect_response(re.compile("/change$")):
        fresh.get_by_label("On which piece").select_option("sleeve")
    # Her measures ask for a shorter sleeve; she wants it longer.
    with page.expect_response(re.compile("/change$")):
        fresh.get_by_role("button", name=re.compile("^longer")).press("Enter")
    field.focus()
    page.keyboard.press("Control+a")
    page.keyboard.type("1 in")
    page.keyboard.press("Enter")
    expect(field).to_have_value("2.5 cm")
    expect(fresh).to_contain_text("Changes sleeve")
    page.keyboard.press("Shift+ArrowDown")
    page.keyboard.press("Shift+ArrowDown")
    expect(field).to_have_value("2.4 cm")
    grip = page.get_by_role("slider", name=re.compile("lengthen or shorten")).first
    grip.focus()
    page.keyboard.press("ArrowUp")
    expect(field).to_have_value("2.5 cm")
    assert one.axe() == []
    fresh.locator("details.more").get_by_role("button", name="Take it out").focus()
    page.keyboard.press("Enter")
    expect(page.locator("article.row")).to_have_count(5)
    assert page.evaluate("document.activeElement.tagName") == "BUTTON"
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("article.row")).to_have_count(6)


def test_what_cannot_be_read_stays_as_typed_and_inches_are_inches(site, screen):
    one = at(screen, site)
    page = one.page
    field = amount(page, "bust dart height")
    field.fill("a bit lower")
    expect(row(page, "bust dart height").locator(".finding.stop")).to_contain_text('"a bit lower"')
    field.press("Tab")
    expect(field).to_have_value("a bit lower")
    expect(row(page, "bust dart height").locator(".finding.stop")).to_contain_text('"a bit lower"')
    row(page, "bust dart height").get_by_role("button", name="From my measures").click()
    expect(field).to_have_value("2.3 cm")
    page.locator("[data-look=unit]").click()
    expect(field).to_have_value("7/8 in")
    field.focus()
    field.press("ArrowUp")
    expect(field).to_have_value("1 in")
    field.press("ArrowUp")
    expect(field).to_have_value("1 1/4 in")
    saved(page)
    one.keep("alter-inches")


def test_two_who_change_different_ones_are_not_asked(site, screen):
    one = at(screen, site)
    other = screen(site)
    other.go(re.search(r"/make/.*", one.page.url)[0])
    for page, name, wanted in ((one.page, "lengthen or shorten", "2.5"), (other.page, "bust dart height", "1")):
        amount(page, name).fill(wanted)
        amount(page, name).press("Enter")
        saved(page)
    expect(amount(other.page, "lengthen or shorten")).to_have_value("2.5 cm", timeout=12000)
    expect(amount(one.page, "bust dart height")).to_have_value("1.0 cm", timeout=12000)
    expect(one.page.get_by_role("dialog")).to_have_count(0)
    expect(other.page.get_by_role("dialog")).to_have_count(0)


def test_the_walk_leads_to_the_alteration(site, screen):
    one = at(screen, site)
    page = one.page
    one.go("/")
    one.go(make_of(one) + "/alter#bust%20dart%20height")
    expect(row(page, "bust dart height")).to_have_class(re.compile("chosen"))
    expect(page.get_by_role("slider", name=re.compile("bust dart height"))).to_be_visible()
