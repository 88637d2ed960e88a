"""Extra pieces that are there: changed in their place, with keys alone, on a laptop and a phone."""

import re

import pytest
from browser.conftest import LAPTOP, PHONE
from playwright.sync_api import expect

BOTH = pytest.mark.parametrize(("size", "theme"), [(LAPTOP, "light"), (PHONE, "dark")], ids=["laptop", "phone"])


def cloth_page(s):
    link = s.go("/").locator('a[href^="/make/"]').first.get_attribute("href")
    return s.go(f"/make/{re.search('/make/([^/]+)', link)[1]}/cloth")


def add(page, kind, **options):
    """A piece, by the form; its edge is the first that is offered, where none is said."""
    before = page.locator("#extras-list .extras > li").count()
    page.locator("#extra-kind").select_option(kind)
    form = page.locator("#add-extra")
    expect(form.locator('[data-option="edge"]')).to_be_visible()
    form.locator("#extra-more summary").click()
    options = {"edge": page.locator("#extra-edges option").first.get_attribute("value"), **options}
    for name, value in options.items():
        form.locator(f'[data-option="{name}"]').fill(value)
    form.locator("#extra-add button").click()
    expect(page.locator("#extras-list .extras > li")).to_have_count(before + 1)


@BOTH
def test_a_tie_is_changed_in_its_place_with_keys_alone(site, screen, size, theme):
    s = screen(site, size, theme=theme)
    page = cloth_page(s)
    add(page, "tie", length="60", name="belt")
    row = page.locator("#extras-list .extras > li")
    change = row.get_by_role("button", name="Change belt")
    change.press("Enter")
    form = row.locator(".change-extra")
    length = form.locator('[data-option="length"]')
    expect(change).to_have_attribute("aria-expanded", "true")
    expect(form.locator("[data-option]").first).to_be_focused()
    expect(length).to_have_value("60")
    expect(form.locator('[data-option="name"]')).to_have_value("belt")
    length.fill("seventy")
    length.press("Enter")
    expect(form.locator(".field [role=alert]")).to_contain_text("seventy")
    expect(length).to_be_focused()
    expect(length).to_have_value("seventy")
    assert s.axe() == [] and not s.wide()
    s.keep(f"extras-change-{theme}")
    length.fill("70")
    length.press("Enter")
    expect(row).to_contain_text("72.0 cm by 6.0 cm")
    expect(form).to_have_count(0)
    expect(row.get_by_role("button", name="Change belt")).to_be_focused()
    page.keyboard.press("Enter")
    length.fill("90")
    row.get_by_role("button", name="Leave it as it was").press("Enter")
    expect(form).to_have_count(0)
    expect(row.get_by_role("button", name="Change belt")).to_be_focused()
    page.keyboard.press("Enter")
    expect(length).to_have_value("70")


@BOTH
def test_a_tie_becomes_a_strap_in_its_place_and_what_holds_for_both_comes_along(site, screen, size, theme):
    s = screen(site, size, theme=theme)
    page = cloth_page(s)
    add(page, "tie", length="60", name="belt")
    row = page.locator("#extras-list .extras > li")
    edge = page.locator("#extra-edges option").first.get_attribute("value")
    row.get_by_role("button", name="Change belt").press("Enter")
    form = row.locator(".change-extra")
    kind = form.get_by_label("What it is")
    field = {name: form.locator(f'[data-option="{name}"]')
             for name in ("edge", "length", "name", "to", "depth", "tiers")}
    expect(kind).to_have_value("tie")
    field["length"].fill("65")
    kind.press("ArrowDown")
    expect(field["to"]).to_be_visible()
    expect(kind).to_have_value("strap")
    expect(kind).to_be_focused()
    for name, value in (("edge", edge), ("length", "65"), ("name", "belt"), ("to", "")):
        expect(field[name]).to_have_value(value)
    kind.select_option("frill")
    expect(field["depth"]).to_be_visible()
    expect(field["length"]).to_have_count(0)
    expect(field["name"]).to_have_value("belt")
    field["tiers"].fill("two")
    field["tiers"].press("Enter")
    expect(form.locator(".field [role=alert]")).to_contain_text("two")
    kind.select_option("strap")
    expect(form.get_by_role("alert")).to_be_hidden()
    expect(field["length"]).to_have_value("65")
    field["to"].fill(page.locator("#extra-edges option").nth(2).get_attribute("value"))
    assert s.axe() == [] and not s.wide()
    s.keep(f"extras-kind-{theme}")
    form.get_by_role("button", name="Save the change").press("Enter")
    expect(form).to_have_count(0)
    expect(row).to_contain_text("67.0 cm")
    expect(row).to_contain_text(f"to {page.locator('#extra-edges option').nth(2).get_attribute('value')}")
    row.get_by_role("button", name="Change belt").press("Enter")
    expect(kind).to_have_value("strap")


def test_what_was_written_for_one_kind_stays_for_the_next_that_is_added(site, screen):
    page = cloth_page(screen(site))
    kind, form = page.locator("#extra-kind"), page.locator("#add-extra")
    kind.select_option("tie")
    form.locator('[data-option="edge"]').fill("neck")
    form.locator('[data-option="length"]').fill("60")
    kind.select_option("facing")
    expect(form.locator('[data-option="length"]')).to_have_count(0)
    expect(form.locator('[data-option="edge"]')).to_have_value("neck")
    kind.select_option("tie")
    expect(form.locator('[data-option="length"]')).to_have_value("60")
    kind.select_option("")
    expect(form.locator("[data-option]")).to_have_count(0)
    kind.select_option("tie")
    expect(form.locator('[data-option="edge"]')).to_have_value("")


def test_what_she_writes_of_one_piece_stays_while_another_goes_and_when_hers_was_changed_elsewhere(site, screen):
    s = screen(site)
    page = cloth_page(s)
    add(page, "tie", length="60", name="belt")
    add(page, "tie", length="30", name="loop")
    belt, loop = (page.locator("#extras-list .extras > li", has_text=name) for name in ("Belt", "Loop"))
    other = s.context.new_page()
    other.goto(page.url)
    belt.get_by_role("button", name="Change belt").click()
    length = belt.locator('.change-extra [data-option="length"]')
    length.fill("80")
    loop.get_by_role("button", name="Take out").click()
    expect(loop).to_have_count(0)
    expect(length).to_have_value("80")
    other.get_by_role("button", name="Change belt").click()
    other.locator('.change-extra [data-option="length"]').fill("75")
    other.get_by_role("button", name="Save the change").click()
    expect(other.locator("#extras-list")).to_contain_text("77.0 cm")
    belt.get_by_role("button", name="Save the change").click()
    expect(belt.get_by_role("alert")).to_contain_text("changed elsewhere")
    expect(belt).to_contain_text("77.0 cm")
    expect(length).to_have_value("80")
    belt.get_by_role("button", name="Save the change").click()
    expect(belt).to_contain_text("82.0 cm")


@BOTH
def test_a_piece_and_an_allowance_are_left_aside_and_put_back(site, screen, size, theme):
    s = screen(site, size, theme=theme)
    page = cloth_page(s)
    add(page, "frill", depth="8", name="upper frill")
    add(page, "frill", edge="upper frill hem", depth="5", name="lower frill")
    page.get_by_label("Along which edges").fill("hem")
    page.get_by_label(re.compile("How wide")).fill("4")
    page.keyboard.press("Enter")
    expect(page.locator("#allowances-list li")).to_contain_text("4.0 cm")
    upper, lower = page.locator("#extras-list .extras > li").first, page.locator("#extras-list .extras > li").last
    upper.get_by_role("button", name="Leave aside").press("Enter")
    expect(upper.get_by_role("alert")).to_contain_text("upper frill")
    expect(upper.locator(".cut-outs").first).to_be_visible()
    for name in ("Lower frill", "Upper frill"):
        page.get_by_role("button", name=f"Leave aside {name}").press("Enter")
        expect(page.get_by_role("button", name=f"Put back {name}")).to_be_focused()
    page.get_by_role("button", name="Leave aside hem").press("Enter")
    expect(page.get_by_role("button", name="Put back hem")).to_be_focused()
    expect(page.locator("#allowances-list li")).to_contain_text("left aside")
    expect(lower).to_contain_text("Left aside: it is not cut.")
    expect(page.locator("#extras-list .cut-outs")).to_have_count(0)
    assert s.axe() == [] and not s.wide()
    s.keep(f"extras-aside-{theme}")
    page.reload()
    for name in ("Upper frill", "Lower frill", "hem"):
        page.get_by_role("button", name=f"Put back {name}").press("Enter")
        expect(page.get_by_role("button", name=f"Leave aside {name}")).to_be_focused()
    expect(page.locator("#extras-list .cut-outs")).to_have_count(2)


@BOTH
def test_an_allowance_is_offered_where_it_takes_effect_and_refused_elsewhere(site, screen, size, theme):
    s = screen(site, size, theme=theme)
    page = cloth_page(s)
    edge, offers = page.get_by_label("Along which edges"), page.locator("#allowance-places option")
    armhole = offers.and_(page.locator('[value="armhole"]'))
    edge.fill("armhole")
    page.get_by_label(re.compile("How wide")).fill("2")
    page.keyboard.press("Enter")
    expect(page.locator("#allowances-list li")).to_contain_text("2.0 cm")
    expect(armhole).to_have_count(1)
    add(page, "bias", edge="armhole", finished="0,8", name="binding")
    expect(page.locator("#allowances-list li")).to_contain_text("changes nothing: how far the cloth")
    expect(armhole).to_have_count(0)
    expect(page.locator('#allowance-places option[value^="binding"]')).to_have_count(0)
    edge.fill("binding")
    page.get_by_label(re.compile("How wide")).fill("1")
    page.keyboard.press("Enter")
    expect(page.locator("#allowance-slip")).to_contain_text('"binding" is an extra piece')
    expect(edge).to_have_value("binding")
    assert s.axe() == [] and not s.wide()
    s.keep(f"allowances-{theme}")


@BOTH
def test_a_corner_and_the_notches_are_set_told_and_taken_back(site, screen, size, theme):
    s = screen(site, size, theme=theme)
    page = cloth_page(s)
    form, rows = page.locator("#add-corner"), page.locator("#corners-list li")
    which, first = form.get_by_label("Which corner"), form.get_by_label("Which edge comes first")
    form.get_by_role("button", name="Set the corner").press("Enter")
    expect(form.get_by_role("alert")).to_contain_text("Choose a corner, and how it is cut.")
    expect(which).to_be_focused()
    offer = which.locator("option", has_text="folded back").first
    which.select_option(offer.get_attribute("value"))
    edges = [offer.get_attribute(f"data-{at}") for at in ("before", "after")]
    form.get_by_label("How it is cut").select_option("mitred")
    expect(first).to_be_hidden()
    form.get_by_label("How it is cut").select_option("square")
    expect(first.locator("option")).to_have_text(["as usual", *edges])
    first.select_option(edges[0])
    assert s.axe() == [] and not s.wide()
    s.keep(f"corners-form-{theme}")
    form.get_by_role("button", name="Set the corner").press("Enter")
    expect(rows).to_contain_text(f"{edges[0]} and {edges[1]}: square to {edges[0]}")
    expect(which).to_be_focused()
    expect(which).to_have_value("")
    notches = page.locator("#set-notches")
    notches.get_by_label("How notches are cut").select_option("outward")
    notches.get_by_role("button", name="Set the notches").press("Enter")
    expect(rows.last).to_contain_text("Notches: small points that stand out")
    rows.first.get_by_role("button", name="Leave aside").press("Enter")
    expect(rows.first.get_by_role("button", name="Put back")).to_be_focused()
    expect(rows.first).to_contain_text("left aside")
    assert s.axe() == [] and not s.wide()
    s.keep(f"corners-{theme}")
    page.reload()
    expect(notches.get_by_label("How notches are cut")).to_have_value("outward")
    rows.first.get_by_role("button", name="Take out").press("Enter")
    expect(rows).to_have_count(1)
    notches.get_by_label("How notches are cut").select_option("")
    notches.get_by_role("button", name="Set the notches").press("Enter")
    expect(rows).to_have_count(0)
