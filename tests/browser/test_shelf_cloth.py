"""A cloth on the shelf: shrinkage from a washed square, flaws, a remnant's corners, what repeats."""

import pytest
from browser.conftest import LAPTOP, PHONE
from playwright.sync_api import expect


def on_the_shelf(s, name="Midnight crepe"):
    page = s.go("/shelf")
    page.get_by_label("What you call it").fill(name)
    page.get_by_role("button", name="Onto the shelf").click()
    page.get_by_label("Usable width").wait_for()
    return page


def write(page, label, text):
    field = page.get_by_label(label)
    field.fill(text)
    with page.expect_response("**/change"):
        field.press("Tab")


@pytest.mark.parametrize(("size", "theme"), [(LAPTOP, "light"), (PHONE, "dark")], ids=["laptop", "phone"])
def test_what_a_lay_needs_of_a_cloth_is_written_on_the_shelf(site, screen, size, theme):
    s = screen(site, size, theme=theme)
    page = on_the_shelf(s)
    write(page, "Usable width", "138")
    write(page, "How much is there", "3")
    write(page, "Price of one metre", "12,5")
    page.get_by_text("Shrinkage, from a washed square").click()
    write(page, "Side before", "50")
    write(page, "After, lengthways", "48,5")
    write(page, "After, across", "49.5")
    expect(page.get_by_text("Washing takes 3 % of its length, takes 1 % of its width.")).to_be_visible()
    write(page, "After, lengthways", "5")
    expect(page.locator(".finding.stop")).to_contain_text("lost 90 % lengthways")
    write(page, "After, lengthways", "48,5")
    page.get_by_text("How it may lie", exact=True).click()
    page.get_by_label("One way").check()
    page.get_by_label("look the same").check()
    write(page, "Stretches across", "20")
    page.get_by_text("Stripe, check or print", exact=True).click()
    write(page, "Repeats lengthways every", "12")
    write(page, "First line from the cut end", "2")
    page.get_by_text("Flaws, and a remnant's shape").click()
    flaw = page.locator("[data-flaw]")
    page.get_by_role("button", name="Note the flaw").click()
    expect(page.locator("#alarms")).to_contain_text("Write all four")
    for name, text in (("x", "30"), ("y", "40"), ("along", "4"), ("across", "5")):
        flaw.locator(f'[name="{name}"]').fill(text)
    page.get_by_role("button", name="Note the flaw").click()
    said = "30.0 cm from the cut end, 40.0 cm from the selvedge: 4.0 cm long, 5.0 cm wide"
    expect(page.get_by_text(said).first).to_be_visible()
    expect(page.locator(".facts")).to_have_text("138.0 cm wide · 3.00 m there · not washed yet · one way · "
                                               "both sides alike · striped or printed · one flaw · 12.50 a metre")
    assert page.locator(".cloth-picture .flaw").count() == 1
    assert s.axe() == [] and not s.wide()
    s.keep(f"shelf-cloth-{'phone' if size is PHONE else 'laptop'}")
    page.reload()
    page.get_by_text("Stripe, check or print", exact=True).click()
    expect(page.get_by_label("Repeats lengthways every")).to_have_value("12.0")
    expect(page.get_by_label("Stretches across")).to_have_value("20")
    page.get_by_text("Flaws, and a remnant's shape").click()
    page.get_by_role("button", name="Take out 30.0 cm").click()
    expect(page.locator(".cloth-picture .flaw")).to_have_count(0)


def test_a_remnant_has_corners_and_a_wrong_number_is_kept_out(site, screen):
    s = screen(site)
    page = on_the_shelf(s, "Remnant")
    page.get_by_text("Flaws, and a remnant's shape").click()
    corner = page.locator("[data-corner]")
    for n, (x, y) in enumerate((("0", "0"), ("100", "0"), ("60", "80")), 1):
        corner.locator('[name="x"]').fill(x)
        corner.locator('[name="y"]').fill(y)
        page.get_by_role("button", name="Add the corner").click()
        expect(page.locator("[data-corners] li")).to_have_count(n)
    expect(page.locator(".facts")).to_contain_text("irregular remnant")
    page.get_by_role("button", name="Take out 60.0 cm").click()
    expect(page.locator("[data-corners] li")).to_have_count(2)
    price = page.get_by_label("Price of one metre")
    price.fill("dear")
    price.press("Tab")
    expect(price).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#alarms")).to_contain_text("no number")
    expect(price).to_have_value("dear")
