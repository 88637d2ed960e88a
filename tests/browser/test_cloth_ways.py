"""Ways of the cloth step: stripes from the shelf, a fold to a depth, two makes in one lay, widths compared."""

import re
import shutil
from dataclasses import replace

import pytest
from browser.conftest import LAPTOP, PHONE, Site
from playwright.sync_api import expect

from toilewright.workroom.documents import ClothDoc, Kind
from toilewright.workroom.store import Workroom

STRIPE = ClothDoc("Choir stripe", width=1500.0, length=6000.0, washed=True, repeat_along=40.0, first_along=10.0)
SECOND = "Concert dress for the soprano"


@pytest.fixture
def stocked(tmp_path, demo_store):
    """The demo with a striped cloth on the shelf and a second dress."""
    folder = tmp_path / "home"
    shutil.copytree(demo_store, folder)
    room = Workroom.open(folder)
    make = room.things(Kind.MAKE)[0]
    room.add(Kind.CLOTH, STRIPE, "bought")
    room.add(Kind.MAKE, replace(make.document, title=SECOND), "a second one")
    room.close()
    one = Site(folder)
    yield one, make.id
    one.stop()


def set_to(page, field, value):
    with page.expect_response("**/change") as answer:
        if field.evaluate("field => field.tagName") == "SELECT":
            field.select_option(label=value)
        else:
            field.fill(value)
            field.press("Tab")
    assert answer.value.status == 200


def lay_it(page):
    page.get_by_label("How long to look").select_option("3")
    page.locator("#lay-out").click()
    expect(page.locator(".lay-picture").first).to_be_visible(timeout=90000)
    expect(page.get_by_text("Everything was checked, and holds").first).to_be_visible()


@pytest.mark.parametrize(("size", "theme"), [(LAPTOP, "light"), (PHONE, "dark")], ids=["laptop", "phone"])
def test_a_striped_cloth_from_the_shelf_meets_at_the_side_seam(stocked, screen, size, theme):
    site, make = stocked
    s = screen(site, size, theme=theme)
    page = s.go(f"/make/{make}/cloth")
    set_to(page, page.locator('[data-set="cloth"]').first, "Choir stripe, on the shelf")
    expect(page.locator('[data-set="width"]')).to_have_count(0)
    set_to(page, page.get_by_label("Add a place").first, "side seam")
    expect(page.locator(".match li")).to_contain_text("side seam")
    set_to(page, page.locator('[data-set="fold"]').first, "open, in one layer")
    lay_it(page)
    expect(page.locator(".lay")).to_contain_text("There is enough: the shelf has 600.0 cm")
    page.locator('[id^="checked-"] summary').click()
    expect(page.locator(".checks")).to_contain_text("places matched, none off by more than 0.00 mm")
    expect(page.locator(".lay")).to_contain_text("Matched: side seam (bodice front, bodice back)")
    assert page.locator(".checks .fails").count() == 0
    assert s.axe() == [] and not s.wide()
    s.keep(f"cloth-stripe-{'phone' if size is PHONE else 'laptop'}")
    page.get_by_role("button", name="Leave out side seam").click()
    expect(page.locator(".match li")).to_have_count(0)
    expect(page.get_by_text("Something this lay rests on has changed since")).to_be_visible()


def test_two_makes_are_cut_in_one_lay(stocked, screen):
    site, make = stocked
    s = screen(site)
    page = s.go(f"/make/{make}/cloth")
    set_to(page, page.locator('[data-set="width"]').first, "150")
    page.get_by_text("Cut other makes in the same lay").click()
    with page.expect_response("**/change"):
        page.get_by_role("checkbox", name=SECOND, exact=True).check()
    lay_it(page)
    expect(page.locator(".cuts")).to_contain_text(SECOND)
    assert s.axe() == [] and not s.wide()
    s.keep("cloth-two-makes")
    both = float(re.search(r"([\d.]+) m", page.locator(".lay .buy").inner_text())[1])
    with page.expect_response("**/change"):
        page.get_by_role("checkbox", name=SECOND, exact=True).uncheck()
    expect(page.get_by_text("Something this lay rests on has changed since")).to_be_visible()
    page.locator("#lay-out").click()
    expect(page.locator(".cuts")).not_to_contain_text(SECOND, timeout=90000)
    alone = float(re.search(r"([\d.]+) m", page.locator(".lay .buy").inner_text())[1])
    assert 1.5 * alone < both < 2.5 * alone  # three seconds find no short lay of two dresses on a busy machine


def test_a_fold_to_a_depth_asks_how_deep(stocked, screen):
    site, make = stocked
    page = screen(site).go(f"/make/{make}/cloth")
    set_to(page, page.locator('[data-set="width"]').first, "150")
    set_to(page, page.locator('[data-set="fold"]').first, "folded to a depth")
    set_to(page, page.locator('[data-set="depth"]').first, "45")
    lay_it(page)
    expect(page.locator(".lies")).to_contain_text("folded 45.0 cm deep, right sides inside")


@pytest.mark.parametrize(("size", "theme"), [(LAPTOP, "dark"), (PHONE, "light")], ids=["laptop", "phone"])
def test_the_widths_on_sale_are_compared_in_inches_and_one_is_taken(stocked, screen, size, theme):
    site, make = stocked
    s = screen(site, size, theme=theme)
    page = s.go(f"/make/{make}/cloth")
    with page.expect_navigation():
        page.locator('[data-look="unit"]').click()
    expect(page.locator("html")).to_have_attribute("data-unit", "in")
    shop = page.locator("form.shop").first
    page.locator("#shop-1 summary").click()
    for name, text in (("width", "54"), ("envelope", "4"), ("price", "12.50")):
        shop.locator(f'[name="{name}"]').fill(text)
    with page.expect_response("**/cloth/shop") as answer:
        shop.get_by_role("button", name="Write it down").click()
    assert answer.value.status == 200
    page.locator("#compare").click()
    table = page.locator("table.widths").first
    expect(table).to_be_visible(timeout=180000)
    row = table.locator("tr", has=page.get_by_role("rowheader", name=re.compile(r"^54")))
    expect(row).to_contain_text("yd")
    expect(table.locator("tr.best")).to_have_count(1)
    s.keep(f"cloth-widths-{'phone' if size is PHONE else 'laptop'}")
    assert s.axe() == [] and not s.wide()
    with page.expect_download() as found:
        page.locator('a[href$="/cloth.pdf"]').click()
    with open(found.value.path(), "rb") as file:
        assert file.read(4) == b"%PDF"
    with page.expect_response("**/change"):
        row.get_by_role("button", name=re.compile("^Take this width")).click()
    expect(row).to_contain_text("taken")
    expect(page.locator('[data-set="width"]').first).to_have_value("54")
