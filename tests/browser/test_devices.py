"""Letting devices in and showing them out, and a longer job, in a real browser."""

import pytest
from browser.conftest import LAPTOP, PHONE, Site
from playwright.sync_api import expect

from toilewright.workroom.backups import back_up
from toilewright.workroom.documents import BodyDoc, Kind
from toilewright.workroom.store import Workroom


@pytest.mark.parametrize("size, theme", [(LAPTOP, "light"), (PHONE, "dark")], ids=["laptop", "phone"])
def test_the_home_network_is_opened_and_closed_by_a_button(screen, empty_site, size, theme):
    s = screen(empty_site, size, theme)
    page = s.go("/devices")
    assert s.axe() == [] and not s.wide()
    page.get_by_role("button", name="Let other devices in my home reach it").click()
    if page.get_by_text("is in no home network").count():
        pytest.skip("this machine is in no home network")
    code = page.locator(".pairing-code")
    first = code.inner_text()
    expect(page.locator(".pairing img")).to_have_js_property("complete", True)
    assert page.locator(".pairing img").evaluate("image => image.naturalWidth > 0")
    assert s.axe() == [] and not s.wide()
    s.keep(f"devices-{theme}")
    page.get_by_role("button", name="A new code").click()
    expect(code).not_to_have_text(first)
    page.get_by_role("button", name="Close it again").click()
    page.get_by_text("only this computer can").wait_for()
    assert code.count() == 0


def test_one_browser_shows_another_out(screen, empty_site):
    mine, other = screen(empty_site), screen(empty_site, PHONE, "dark")
    page = mine.go("/devices")
    page.get_by_role("button", name="Show this computer out").click()
    expect(page.locator(".devices li")).to_have_count(1)
    at_the_door = other.go("/")
    assert at_the_door.get_by_label("Code").count() == 1
    assert other.axe() == [] and not other.wide()
    other.keep("door-dark")
    other.complaints.clear()  # the browser notes the refusal of the page itself


def test_a_longer_job_shows_how_far_it_is_and_can_be_stopped(screen, site):
    s = screen(site)
    page = s.go(s.page.locator(".make h2 a").get_attribute("href") + "/print")
    for paper in page.locator(".paper input").all():
        paper.check()
    # A quick machine is done before a hand could stop it, so it is stopped as soon as there is a button.
    page.evaluate("""() => new MutationObserver((seen, watch) => {
        const [bar, stop] = ["progress, [role=progressbar]", "button"]
            .map((one) => document.querySelector(`work-progress ${one}`));
        if (bar && stop) { watch.disconnect(); stop.click(); }
    }).observe(document.getElementById("progress"), { childList: true, subtree: true })""")
    page.locator("#make-files").click()
    progress = page.locator("work-progress")
    page.get_by_text("Stopped; nothing was changed.").wait_for()
    assert progress.get_by_role("button").count() == 0


def test_a_damaged_store_is_told_and_the_back_up_put_back(screen, tmp_path):
    folder = tmp_path / "home"
    room = Workroom.open(folder)
    room.add(Kind.BODY, BodyDoc("an alto"), "new")
    back_up(room)
    room.close()
    (folder / "workroom.db").write_bytes(b"torn " * 1000)
    one = Site(folder)
    try:
        s = screen(one, PHONE, "dark")
        assert s.axe() == [] and not s.wide()
        s.keep("rescue-dark")
        s.page.get_by_role("button", name="Put back").click()
        s.page.wait_for_url(one.root + "/")
        assert "an alto" in s.go("/bodies").content()
    finally:
        one.stop()
