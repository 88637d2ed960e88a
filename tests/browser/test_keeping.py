"""Keeping in a real browser: out of one store into another, back-ups, and back to how it was."""

import pytest
from browser.conftest import PHONE, Site


@pytest.fixture
def other_site(tmp_path):
    """A second machine."""
    one = Site(tmp_path / "other")
    yield one
    one.stop()


def test_a_make_goes_from_one_store_into_another(site, other_site, screen, tmp_path):
    s = screen(site)
    page = s.go("/keeping")
    assert s.axe() == [] and not s.wide()
    s.keep("keeping-laptop")
    with page.expect_download() as coming:
        page.get_by_role("button", name="Save it as a file").click()
    assert coming.value.suggested_filename.startswith("concert-dress-for-the-alto-")
    coming.value.save_as(tmp_path / "make.zip")

    other = screen(other_site, PHONE)
    page = other.go("/keeping")
    for said in ("new", "here already, nothing changed"):
        page.get_by_label("The file").set_input_files(tmp_path / "make.zip")
        page.get_by_role("button", name="Bring it in").click()
        page.locator("#report li", has_text=f"Concert dress for the alto – {said}").wait_for()
    assert other.axe() == [] and not other.wide()
    other.keep("keeping-phone")
    other.go("/")
    page.get_by_role("heading", name="Concert dress for the alto").wait_for()


def test_going_back_in_a_history_and_putting_a_back_up_back(site, screen):
    s = screen(site)
    page = s.go("/")
    make = page.locator(".make").get_attribute("data-make")
    rename = """async ([id, title]) => {
        const { change, get } = await import('/static/js/api.js');
        const thing = await get(`/things/${id}`);
        await change(id, thing.revision, [[['title'], title]], 'renamed');
    }"""
    page.evaluate(rename, [make, "Funeral dress"])
    s.go(f"/thing/{make}/history")
    page.get_by_role("link", name="Look at it then").last.click()
    row = page.locator(".differences tr", has_text="title")
    assert "Funeral dress" in row.inner_text() and "Concert dress for the alto" in row.inner_text()
    assert s.axe() == [] and not s.wide()
    s.keep("history-laptop")
    page.get_by_role("button", name="Go back to this").click()
    page.get_by_role("heading", name="What was done to Concert dress for the alto").wait_for()
    page.get_by_text("gone back to").wait_for()

    s.go("/keeping")
    page.get_by_role("button", name="Back up now").click()
    page.get_by_text("A back-up was made").wait_for()
    page.evaluate(rename, [make, "Spoilt dress"])
    s.go("/keeping")
    page.locator("[data-restore]").first.click()
    assert s.axe() == []
    page.get_by_role("button", name="Put it back").click()
    page.get_by_text("is kept as workroom-set-aside-").wait_for()
    s.go("/")
    page.get_by_role("heading", name="Concert dress for the alto").wait_for()
