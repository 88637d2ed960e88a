"""Printing and the cards in a real browser: files that really come, with as many pages as were told."""

import re
import zipfile

import pikepdf
from browser.conftest import PHONE


def test_files_are_made_and_saved_with_as_many_pages_as_were_told(site, screen, tmp_path):
    s = screen(site)
    page = s.go("/")
    make = page.locator(".make").get_attribute("data-make")
    s.go(f"/make/{make}/print")
    page.get_by_text("Everything sews").wait_for()
    told = page.locator('[data-count="letter"]').filter(has_text=re.compile(r"\d+ sheets"))
    told.wait_for(timeout=60000)
    sheets = int(re.match(r"\d+", told.inner_text())[0])
    for paper in ("A4", "One wide sheet", "For a projector"):
        page.get_by_role("checkbox", name=paper).set_checked(False)
    page.get_by_role("checkbox", name="Letter").set_checked(True)
    page.get_by_text("How the sheets lie – Letter").click()
    page.locator('[data-map="letter"] svg').wait_for()
    page.get_by_role("button", name="Make the files").click()
    page.get_by_text("The files are ready.").first.wait_for(timeout=60000)
    assert s.axe() == [] and not s.wide()
    s.keep("print-laptop")
    with page.expect_download() as coming:
        page.get_by_role("link", name="Save Pieces on letter sheets").click()
    assert coming.value.suggested_filename == "concert-dress-for-the-alto-pieces-letter.pdf"
    coming.value.save_as(tmp_path / "pieces.pdf")
    with pikepdf.open(tmp_path / "pieces.pdf") as pdf:
        assert len(pdf.pages) == sheets
    with page.expect_download() as coming:
        page.get_by_role("link", name="Save all as one file").click()
    coming.value.save_as(tmp_path / "all.zip")
    names = zipfile.ZipFile(tmp_path / "all.zip").namelist()
    assert sum("pieces-" in n for n in names) == 1 and any(n.endswith("pieces.dxf") for n in names)

    page.get_by_role("checkbox", name="A4").set_checked(True)
    page.get_by_text("No files yet, or something has changed since.").wait_for()
    s.go(f"/make/{make}/print")
    assert page.get_by_role("checkbox", name="A4").is_checked()


def test_what_does_not_sew_is_not_printed(site, screen):
    s = screen(site, PHONE)
    page = s.go("/")
    make = page.locator(".make").get_attribute("data-make")
    page.evaluate("""async ([id]) => {
        const { change, get } = await import('/static/js/api.js');
        const thing = await get(`/things/${id}`);
        await change(id, thing.revision, [[['pattern'], '']], 'pattern taken away');
    }""", [make])
    s.go(f"/make/{make}/print")
    page.get_by_text("There is nothing to print yet").wait_for()
    assert page.get_by_role("button", name="Make the files").count() == 0
    assert s.axe() == [] and not s.wide()


def test_ticks_on_the_cards_stay_and_large_type_shows_one_card(site, screen):
    s = screen(site, PHONE)
    page = s.go("/")
    make = page.locator(".make").get_attribute("data-make")
    s.go(f"/make/{make}/cards")
    assert s.axe() == [] and not s.wide()
    s.keep("cards-phone")
    page.locator('[data-tick="step-1"]').first.check()
    s.go(f"/make/{make}/cards")
    assert page.locator('[data-tick="step-1"]').first.is_checked()
    assert page.locator(".card .done").first.inner_text().startswith("1 of")
    page.get_by_role("button", name="Large, one card at a time").click()
    assert page.locator(".card:visible").count() == 1
    first = page.locator(".card:visible h2").inner_text()
    page.get_by_role("button", name="Next card").click()
    assert page.locator(".card:visible h2").inner_text() != first
    assert s.axe() == [] and not s.wide()
    s.keep("cards-phone-large")
    answer = page.request.get(f"{site.root}/make/{make}/cards.pdf")
    assert answer.headers["content-disposition"] == 'inline; filename="concert-dress-for-the-alto-cards.pdf"'
