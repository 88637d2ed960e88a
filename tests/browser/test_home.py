"""The first page in a real browser: an empty table, the example, a new make from last time, putting away, the diary."""

from browser.conftest import PHONE

PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de0000000c494441"
    "54789c63f8cfc00000030101009cdb2a4d0000000049454e44ae426082")


def test_the_first_start_is_empty_and_the_example_is_laid_out(empty_site, screen):
    s = screen(empty_site, PHONE)
    page = s.go("/")
    assert page.get_by_role("heading", level=1).inner_text() == "Welcome to your table"
    assert s.axe() == [] and not s.wide()
    s.keep("welcome-phone")
    page.get_by_role("button", name="Lay out the choir's example").click()
    page.get_by_role("heading", name="Concert dress for the alto").wait_for(timeout=60000)
    page.locator(".small-picture svg").wait_for(timeout=60000)
    assert s.axe() == [] and not s.wide()
    s.keep("home-phone")


def test_a_new_make_from_last_time_brings_up_what_was_to_be_changed(site, screen):
    s = screen(site)
    page = s.go("/")
    make = page.locator(".make").get_attribute("data-make")
    s.go(f"/make/{make}/diary")
    page.get_by_role("button", name="I wore it today").click()
    page.get_by_text("Worn once").wait_for()
    page.get_by_label("Change next time").check()
    page.get_by_label("In your words").fill("Hem 2 cm longer")
    page.get_by_label("Photographs").set_input_files({"name": "hem.png", "mimeType": "image/png", "buffer": PNG})
    page.get_by_role("button", name="Write it down").click()
    page.locator(".entry img").wait_for()
    assert page.locator(".entry img").evaluate("i => i.decode().then(() => i.naturalWidth)") == 1
    assert s.axe() == [] and not s.wide()
    s.keep("diary-laptop")

    s.go("/")
    page.get_by_text("worn once").wait_for()
    page.get_by_label("What will it be?").fill("Autumn dress")
    page.get_by_label("Start from last time").select_option(make)
    assert page.locator("#next-time").inner_text().endswith("Concert dress for the alto: Hem 2 cm longer")
    page.get_by_role("button", name="Begin").click()
    page.wait_for_url("**/measure*")
    s.go("/")
    new = page.locator(".make", has_text="Autumn dress")
    assert "For the alto" in new.inner_text()

    new.get_by_text("More").click()
    new.get_by_role("button", name="Rename").click()
    new.get_by_label("New title").fill("Harvest dress")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Harvest dress").wait_for()
    page.locator(".make", has_text="Harvest dress").get_by_role("button", name="Put away").click()
    page.get_by_text("Put away (1)").wait_for()
    page.wait_for_load_state()
    page.get_by_text("Put away (1)").click()
    page.get_by_role("button", name="Bring back Harvest dress").click()
    page.get_by_role("heading", name="Harvest dress").wait_for()
    assert s.axe() == []


def test_cloth_goes_onto_the_shelf_in_inches_too(site, screen):
    s = screen(site, PHONE, theme="dark")
    page = s.go("/shelf")
    page.get_by_label("What you call it").fill("Midnight crepe")
    page.get_by_role("button", name="Onto the shelf").click()
    page.get_by_label("Usable width").fill("140")
    page.get_by_label("How much is there").fill("2,5")
    page.get_by_label("Weight").fill("150")
    page.keyboard.press("Tab")
    page.get_by_label("How it hangs").select_option("fluid")
    page.get_by_text("140.0 cm wide · 2.50 m there · 150 g/m² · fluid").wait_for()
    assert s.axe() == [] and not s.wide()
    s.keep("shelf-phone-dark")
    page.get_by_role("button", name="Lengths are shown in").click()
    page.get_by_text("55 1/8 in wide · 2.73 yd there · 4.4 oz/yd²").wait_for()
