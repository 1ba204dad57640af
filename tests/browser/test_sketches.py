"""A photo of a board in a real browser: a coach sends it, the director approves it, a reader sees it; and one that is too large."""

from pathlib import Path
from typing import Any

from playwright.sync_api import Page, expect

from tests.browser import addresses
from tests.browser.addresses import COACH, DIRECTOR, READER
from tests.drills.taken import SECRETS, board, exif, saved
from tests.harness.accessible import complaints, pale_in_other_schemes
from tests.harness.browsers import PATIENCE_MS, PHONE
from tests.harness.people import signed_in


def test_a_coach_sends_the_director_approves_and_a_reader_sees(demo_site: Any, browser: Any) -> None:
    def tab_of(who: str) -> Page:
        context = browser.new_context(**PHONE, locale="en-GB", reduced_motion="reduce")
        signed_in(context, demo_site, who)
        tab = context.new_page()
        tab.goto(demo_site.address(addresses.drill("Bite Back")))
        return tab

    coach = tab_of(COACH)
    coach.locator("#sketches > summary").click()
    sent = saved(board((1200, 900)), exif=exif(6))
    coach.set_input_files("#sketch-photo", {"name": "board.jpg", "mimeType": "image/jpeg", "buffer": sent})
    coach.fill("#sketch-caption", "Two gates on the board")
    coach.get_by_role("button", name="Add the photo").click()
    expect(coach.get_by_text("The photo waits for the director")).to_be_visible(timeout=PATIENCE_MS)
    shown = coach.get_by_role("img", name="Two gates on the board")
    expect(shown).to_be_visible()
    shown.scroll_into_view_if_needed()
    coach.wait_for_function(
        "() => document.querySelector('.sketches img').naturalWidth === 900", timeout=PATIENCE_MS
    )
    assert (
        complaints(coach, "sketches of a coach") + pale_in_other_schemes(coach, "sketches of a coach") == []
    )
    assert tab_of(READER).locator("#sketches").count() == 0

    director = tab_of(DIRECTOR)
    director.goto(demo_site.address("/"))
    director.get_by_role("link", name="Bite Back").and_(director.locator("[href$='#sketches']")).click()
    assert complaints(director, "sketches of the director") == []
    director.get_by_role("button", name="Approve").click()
    expect(director.get_by_text("Approved: everybody who reads the drill sees it.")).to_be_visible(
        timeout=PATIENCE_MS
    )

    reader = tab_of(READER)
    reader.locator("#sketches > summary").click()
    link = reader.locator(".sketches a")
    expect(link.get_by_role("img")).to_be_visible()
    assert complaints(reader, "sketches of a reader") == []
    picture = reader.request.get(demo_site.address(link.get_attribute("href")))
    assert picture.headers["content-type"] == "image/jpeg"
    assert [each for each in SECRETS if each in picture.body()] == []
    for tab in (coach, director, reader):
        tab.context.close()


def test_a_photo_of_40_mb_is_refused_before_it_is_sent(demo_site: Any, phone: Page, tmp_path: Path) -> None:
    signed_in(phone.context, demo_site, COACH)
    phone.goto(demo_site.address(addresses.drill("All Aboard")))
    phone.locator("#sketches > summary").click()
    posted: list[str] = []
    phone.on("request", lambda request: posted.append(request.url) if request.method == "POST" else None)
    large = tmp_path / "board.jpg"  # from the disk: through the browser's own channel it took half a minute
    large.write_bytes(bytes(40_000_000))
    phone.set_input_files("#sketch-photo", large)
    expect(phone.locator("#sketch-photo_error")).to_have_text(
        "This photo has 40 MB; up to 12 MB can be read."
    )
    phone.get_by_role("button", name="Add the photo").click()
    expect(phone.locator("#sketch-photo")).to_have_attribute("aria-invalid", "true")
    assert posted == []
    small = {"name": "board.jpg", "mimeType": "image/jpeg", "buffer": saved(board())}
    phone.set_input_files("#sketch-photo", small)
    expect(phone.locator("#sketch-photo_error")).to_have_text("")
    phone.get_by_role("button", name="Add the photo").click()
    expect(phone.locator(".sketches li")).to_have_count(2, timeout=PATIENCE_MS)
