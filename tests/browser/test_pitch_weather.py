"""Heat and thunder at the pitch in a real browser: the clock on every phone, the estimate without signal."""

import re
from collections.abc import Callable

from django.templatetags.static import static
from playwright.sync_api import expect

from sessions.planning.weather import BANDS, heat_band, wbgt_estimate_c
from tests.browser.at_the_pitch import PATIENCE_MS, Pitch
from tests.harness.accessible import complaints

ALIKE = """async ([url, bands, asked]) => {
  const { band, wbgt } = await import(url);
  return asked.map(([t, h]) => [wbgt(t, h), bands.map((each) => band(each, wbgt(t, h)).name)]);
}"""


def test_the_phone_estimates_as_the_server_does(pitch: Callable[..., Pitch]) -> None:
    """Every half degree and every second per cent of the air that is played in, and the bands of every guideline."""
    phone = pitch()
    phone.open("more")
    asked = [(t / 2, h) for t in range(-60, 121) for h in range(0, 101, 2)]
    bands = [[{"name": each.name, "upper_c": each.upper_c} for each in of] for _source, of in BANDS.values()]
    found = phone.page.evaluate(ALIKE, [static("sessions/pitch/weather.js"), bands, asked])
    for (t, h), (degrees, names) in zip(asked, found, strict=True):
        ours = wbgt_estimate_c(t, h)
        assert abs(degrees - ours) < 1e-9
        assert names == [heat_band(ours, guideline).name for guideline in BANDS], (t, h)


def test_heat_is_worked_out_without_signal_and_said_by_the_session(pitch: Callable[..., Pitch]) -> None:
    phone = pitch("helper@demo.example")
    phone.open("more")
    phone.page.context.set_offline(True)
    phone.page.fill("[name=temperature]", "30")
    phone.page.fill("[name=humidity]", "150")
    phone.page.click("#heat button")
    expect(phone.page.locator("#heat-said")).to_contain_text("humidity from 0 to 100 %")
    phone.page.fill("[name=humidity]", "50")
    phone.page.click("#heat button")
    said = phone.page.locator("#heat-said")
    # 29.259 °C by the published formula; FIFPRO: breaks from 28 to 32 °C.
    expect(said).to_contain_text("30 °C and 50 %: about 29.3 °C WBGT: breaks")
    expect(said).to_contain_text("FIFPRO heat guideline")
    expect(phone.page.locator("#more")).to_contain_text("local rules and licensed practice decide")
    expect(phone.page.locator("#more")).to_contain_text("strong sun")
    assert complaints(phone.page, "more") == []
    phone.page.context.set_offline(False)
    phone.arrived(1)
    phone.page.reload()
    expect(said).to_contain_text("about 29.3 °C WBGT")
    phone.page.goto(phone.url.replace("pitch/", ""))
    expect(phone.page.locator("main")).to_contain_text("Heat, 30 °C and 50 %: about 29.3 °C WBGT, breaks")


def test_one_press_on_thunder_clears_every_phone_for_half_an_hour(pitch: Callable[..., Pitch]) -> None:
    phone, other = pitch("coach@demo.example"), pitch("helper@demo.example")
    other.open("part")
    phone.open("more")
    phone.page.click("#more [data-thunder]")
    clock, theirs = phone.page.locator("#thunder"), other.page.locator("#thunder")
    expect(clock).to_contain_text("Off the pitch")
    expect(clock.locator(".thunder-left")).to_have_text(re.compile("^(30:00|29:5[0-9])$"))
    assert complaints(phone.page, "thunder") == []
    phone.arrived(1)
    other.page.clock.run_for(21_000)  # nobody touches the other phone
    expect(theirs).to_be_visible(timeout=PATIENCE_MS)
    expect(theirs).to_contain_text("Off the pitch")
    for view in ("register", "after", "part"):
        other.go(view)
        expect(theirs).to_be_visible()
    other.page.reload()
    expect(theirs).to_contain_text("Off the pitch")
    phone.page.goto(phone.url.replace("pitch/", ""))
    expect(phone.page.locator("main")).to_contain_text(
        re.compile(r"Thunder at \d\d:\d\d: off the pitch until \d\d:\d\d at the earliest")
    )


def test_thunder_again_starts_the_clock_anew_and_a_slip_is_undone(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("more")
    phone.page.context.set_offline(True)  # the page's clock runs ahead of the server's
    phone.page.click("#more [data-thunder]")
    left = phone.page.locator(".thunder-left")
    phone.page.clock.run_for(10 * 60_000)
    expect(left).to_have_text(re.compile(r"^(20:00|19:5\d)$"))
    phone.page.click("#thunder [data-thunder]")
    expect(left).to_have_text(re.compile(r"^(30:00|29:5\d)$"))
    phone.page.click("#no-thunder")  # a slip: the first one counts again
    expect(left).to_have_text(re.compile(r"^(20:00|19:5\d)$"))
    phone.page.click("#to-pocket")
    expect(phone.page.locator("#pocket-line")).to_have_text("Off the pitch")
    phone.page.clock.run_for(20 * 60_000)
    expect(phone.page.locator("#thunder")).to_contain_text("No thunder for 30 min.")
    expect(phone.page.locator("#pocket-line")).not_to_have_text("Off the pitch")
    phone.page.clock.run_for(11 * 60_000)
    expect(phone.page.locator("#thunder")).to_be_hidden()
