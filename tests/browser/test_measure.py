"""Measuring in a real browser: doubts at once, numbers kept, everything by keyboard, nothing for axe to find."""

import re

import pytest

expect = pytest.importorskip("playwright.sync_api").expect

LAPTOP, PHONE = {"width": 1280, "height": 800}, {"width": 390, "height": 844}
BUST, UPPER, ARM = "bust girth", "upper bust girth", "arm length"


def row(page, name):
    return page.locator(f'[data-measure="{name}"]')


def field(page, name, side=""):
    return row(page, name).locator(f'input[data-side="{side}"]')


def enter(page, name, text, side=""):
    one = field(page, name, side)
    one.fill(text)
    with page.expect_response(re.compile("/state")):
        one.press("Tab")


def sheet(screen, site, size=LAPTOP, **more):
    """The alto's sheet, as the demo brings it."""
    one = screen(site, size, **more)
    one.go("/bodies")
    one.page.get_by_role("link", name="the alto").first.click()
    one.page.wait_for_url(re.compile("/body/"))
    return one


def test_a_wrong_number_is_questioned_at_once_and_put_right_with_one_press(screen, site):
    page = sheet(screen, site).page
    enter(page, BUST, "9,6")
    asked = row(page, BUST).locator(".asked")
    expect(asked).to_contain_text("bodies have 50.0 cm to 190.0 cm")
    with page.expect_response(re.compile("/state")):
        asked.get_by_role("button", name="Did you mean 96.0 cm?").click()
    page.reload()
    expect(field(page, BUST)).to_have_value("96.0")
    expect(asked).to_have_text("")


def test_swapped_digits_are_offered_the_right_way_round(screen, site):
    page = sheet(screen, site).page
    enter(page, ARM, "85")
    with page.expect_response(re.compile("/state")):
        row(page, ARM).get_by_role("button", name="Did you mean 58.0 cm?").click()
    expect(row(page, ARM).locator(".asked")).to_have_text("")
    expect(field(page, ARM)).to_have_value("58.0")
    page.reload()
    expect(field(page, ARM)).to_have_value("58.0")


def test_inches_on_a_sheet_in_centimetres(screen, site):
    page = sheet(screen, site).page
    enter(page, BUST, "37 1/2 in")
    expect(field(page, BUST)).to_have_value("95.2")
    expect(row(page, BUST).locator(".asked")).to_have_text("")
    enter(page, UPPER, "35,5")
    with page.expect_response(re.compile("/state")):
        row(page, UPPER).get_by_role("button", name="It is inches: 35 1/2 in = 90.2 cm").click()
    page.reload()
    expect(field(page, BUST)).to_have_value("95.2")
    expect(field(page, UPPER)).to_have_value("90.2")


def test_what_cannot_be_read_stays_in_its_field_unsaved_with_a_sentence(screen, site):
    page = sheet(screen, site).page
    field(page, BUST).fill("about 95")
    field(page, BUST).press("Tab")
    stop = row(page, BUST).locator(".finding.stop")
    stop.wait_for()
    expect(stop).to_contain_text("cannot be read as a length")
    expect(field(page, BUST)).to_have_value("about 95")
    assert field(page, BUST).get_attribute("aria-invalid")
    enter(page, BUST, "95,5")
    expect(row(page, BUST).locator(".asked")).to_have_text("")
    page.reload()
    expect(field(page, BUST)).to_have_value("95.5")


def test_it_is_right_is_remembered(screen, site):
    page = sheet(screen, site).page
    enter(page, ARM, "85")
    with page.expect_response(re.compile("/state")):
        row(page, ARM).get_by_role("button", name="It is right").click()
    page.reload()
    expect(field(page, ARM)).to_have_value("85.0")
    expect(row(page, ARM).locator(".asked")).to_have_text("")
    enter(page, ARM, "86")
    expect(row(page, ARM).get_by_role("button", name="It is right")).to_be_visible()


def test_the_picture_follows_the_field(screen, site):
    page = sheet(screen, site).page
    for name in (BUST, "crotch depth", "forward shoulder"):
        field(page, name).focus()
        shown = page.locator(".where figure:visible")
        assert shown.count() == 1 and shown.get_attribute("data-for") == name
        assert shown.locator("svg").get_attribute("aria-label").endswith(name)
        box = shown.locator(".pen-tape").bounding_box()
        assert box["width"] + box["height"] > 20


def test_everything_by_keyboard(screen, site):
    page = sheet(screen, site).page
    field(page, BUST).focus()
    page.keyboard.type("96")
    page.keyboard.press("Enter")
    expect(field(page, UPPER)).to_be_focused()
    page.keyboard.type("90")
    page.keyboard.press("Enter")
    expect(field(page, "waist girth")).to_be_focused()
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.name") == "waist-place"
    with page.expect_response(re.compile("/state")):
        page.keyboard.press("ArrowDown")
    page.reload()
    expect(field(page, BUST)).to_have_value("96.0")
    assert page.locator('[name="waist-place"]:checked').get_attribute("value") == "half-way"


def test_one_at_a_time_on_the_phone(screen, site):
    one = sheet(screen, site, PHONE, has_touch=True)
    page = one.page
    assert page.locator(".measure:visible").count() == 1
    assert page.locator("#at").inner_text().endswith("of 30")
    first = page.locator(".measure:visible").get_attribute("data-measure")
    page.locator(".measure:visible input").first.fill("9,5")
    page.locator("#next").click()
    # The doubt is shown before she goes on; a second press goes on.
    page.locator(".measure:visible .finding").wait_for()
    assert page.locator(".measure:visible").get_attribute("data-measure") == first
    page.locator("#next").click()
    expect(page.locator(f'.measure.here[data-measure="{first}"]')).to_have_count(0)
    for button in ("#next", "#previous"):
        assert page.locator(button).bounding_box()["height"] >= 44
    assert not one.wide()


def test_left_and_right(screen, site):
    page = sheet(screen, site).page
    arm = "upper arm girth"
    field(page, arm).focus()
    row(page, arm).locator("summary").click()
    enter(page, arm, "28", "left")
    enter(page, arm, "30,5", "right")
    expect(row(page, arm).locator(".asked")).to_contain_text("more than usual")
    page.reload()
    expect(field(page, arm, "left")).to_have_value("28.0")
    expect(field(page, arm, "right")).to_have_value("30.5")


def test_a_new_sheet_starts_from_the_last_and_compares_with_it(screen, site):
    page = sheet(screen, site).page
    page.locator(".about summary").click()
    with page.expect_navigation():
        page.get_by_role("button", name="Measure again").click()
    expect(field(page, BUST)).to_have_value("95.5")
    expect(row(page, BUST).locator(".last")).to_have_text("last time 95.5 cm as last time")
    enter(page, BUST, "97")
    expect(row(page, BUST).locator(".difference")).to_have_text("+1.5 cm")
    enter(page, "stature", "164")
    expect(row(page, "stature").locator(".asked")).to_contain_text("seldom changes")


def test_the_first_step_of_a_make(screen, site):
    one = sheet(screen, site)
    page = one.page
    one.go("/bodies")
    address = page.locator(".people a[href^='/make/']").first.get_attribute("href")
    one.go(f"{address}/measure")
    assert page.locator(".tape [aria-current]").count() == 1
    page.locator(".about summary").click()
    with page.expect_navigation():
        page.get_by_role("button", name="Measure again").click()
    expect(page.locator("#sheets option")).to_have_count(2)
    enter(page, BUST, "97")
    page.locator(".about summary").click()
    with page.expect_navigation():
        page.locator("#sheets").select_option(index=1)
    # The make uses the older sheet from now on.
    one.go(f"{address}/measure")
    expect(field(page, BUST)).to_have_value("95.5")
    expect(page.locator("[data-settle=measure]")).to_be_visible()


NEW_MAKE = """async () => (await (await fetch("/things", {method: "POST", headers: {"content-type": "application/json",
    accept: "application/json", "x-toilewright": document.querySelector("meta[name=csrf]").content},
    body: JSON.stringify({kind: "make", document: {title: "Choir skirt"}, words: "a new make"})})).json()).id"""


def test_a_make_begins_with_whose_it_is(screen, site):
    one = screen(site)
    page = one.page
    make = page.evaluate(NEW_MAKE)
    one.go(f"/make/{make}/measure")
    assert one.axe() == [] and not one.wide()
    one.keep("whose")
    with page.expect_navigation():
        page.get_by_role("button", name="the alto").click()
    expect(field(page, BUST)).to_have_value("95.5")
    page.locator("[data-settle=measure]").click()
    page.wait_for_url(re.compile(f"/make/{make}/pattern"))


def test_an_older_day_is_asked_about_and_measured_again(screen, site):
    page = sheet(screen, site).page
    page.locator(".about summary").click()
    with page.expect_response(re.compile("/change")):
        page.locator("#date").fill("2020-05-01")
        page.locator("#date").press("Tab")
    page.reload()
    about = page.locator("#about-sheet")
    expect(about).to_contain_text("more than a year ago")
    with page.expect_navigation():
        about.get_by_role("button", name="Measure again").click()
    expect(about).to_have_text("")


def test_what_she_always_needs(screen, site):
    page = sheet(screen, site).page
    with page.expect_navigation():
        page.locator("#wish").select_option("full bust")
        page.locator("#add-wish").click()
    wish = page.locator('[data-name="full bust"]')
    expect(row(page, BUST)).to_contain_text("for: the size, full bust")
    with page.expect_response(re.compile("/change")):
        wish.locator("input").fill("1,5")
        wish.locator("input").press("Tab")
    page.reload()
    assert wish.locator("input").input_value() == "1.5 cm"
    with page.expect_navigation():
        wish.get_by_role("button").click()
    assert wish.count() == 0


def test_missing_measures_say_what_they_are_for(screen, site):
    page = sheet(screen, site).page
    enter(page, "forward shoulder", "")
    expect(page.locator("[data-count=for_wanted]")).to_contain_text("Still wanted: forward shoulder (forward shoulder)")


def test_a_new_person_is_measured_from_nothing(screen, empty_site):
    page = screen(empty_site).go("/bodies")
    page.get_by_label("Name").fill("first soprano")
    page.keyboard.press("Enter")
    page.wait_for_url(re.compile("/body/"))
    enter(page, BUST, "88")
    enter(page, "waist girth", "70")
    expect(row(page, "waist girth").locator(".asked")).to_contain_text("Which waist")
    page.get_by_label("Natural").check()
    expect(row(page, "waist girth").locator(".asked")).to_have_text("")
    page.goto(empty_site.root + "/bodies")
    expect(page.locator(".people")).to_contain_text("2 measures")
    with page.expect_navigation():
        page.get_by_role("button", name="Put away").click()
    assert page.get_by_text("first soprano").is_hidden()
    page.get_by_text("One put away").click()
    with page.expect_navigation():
        page.get_by_role("button", name="Bring back").click()
    expect(page.get_by_role("link", name="first soprano").first).to_be_visible()


def test_inches_at_one_touch(screen, site):
    page = sheet(screen, site).page
    with page.expect_navigation():
        page.locator('[data-look="unit"]').click()
    expect(field(page, BUST)).to_have_value("37 5/8")
    enter(page, BUST, "38 1/4")
    page.reload()
    expect(field(page, BUST)).to_have_value("38 1/4")


@pytest.mark.parametrize("size", [LAPTOP, PHONE], ids=["laptop", "phone"])
@pytest.mark.parametrize("theme", ["light", "dark"])
def test_looks(screen, site, size, theme):
    one = sheet(screen, site, size, theme=theme)
    name = f"measure-{'phone' if size is PHONE else 'laptop'}-{theme}"
    one.page.evaluate("document.querySelector('.rows input:not([type=radio])').focus()")
    one.keep(name)
    assert one.axe() == [] and not one.wide()
    enter(one.page, one.page.locator(".measure.here").get_attribute("data-measure"), "9")
    one.page.locator(".finding:visible").first.wait_for()
    assert one.axe() == [] and not one.wide()
    one.go("/bodies")
    one.keep(name.replace("measure", "people"))
    assert one.axe() == [] and not one.wide()


def test_a_link_goes_to_its_measure_and_what_was_not_taken_is_estimated(site, screen):
    for size in (LAPTOP, PHONE):
        one = screen(site, size)
        page = one.go("/bodies")
        page.locator("h2 a").first.click()
        page.wait_for_url(re.compile("/body/"))
        page.goto(page.url.split("#")[0] + "#high-hip-girth")
        expect(page.locator("#m-high-hip-girth")).to_be_focused()
        expect(page.locator("#guess-high-hip-girth")).to_contain_text("nine of ten bodies")
        assert one.axe() == [] and not one.wide()
