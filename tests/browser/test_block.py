"""A block on one page: its numbers lead to the sessions behind them, and sixteen teams fit on one sheet of A4 across."""

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser import week_addresses
from tests.browser.pages import DIRECTOR
from tests.harness.people import signed_in

MM = 72 / 25.4  # points


@pytest.fixture
def desk(demo_site: Any, browser: Any) -> Any:
    context = browser.new_context(viewport={"width": 1280, "height": 800}, locale="en-GB")
    signed_in(context, demo_site, DIRECTOR)
    page = context.new_page()
    page.goto(demo_site.address("/sessions/block/"))
    yield page
    context.close()


def test_a_number_leads_to_the_sessions_behind_it(desk: Any) -> None:
    line = desk.locator(".block-table tbody tr", has_text="U12")
    found = line.locator("details li, .themes > ul > li").filter(has_text=re.compile(r"\d+ \+ \d+")).first
    done, planned = re.search(r"(\d+) \+ (\d+)", found.inner_text() or found.text_content()).groups()
    desk.goto(desk.url.split("/sessions/")[0] + found.locator("a").get_attribute("href"))
    expect(desk.locator(".lead")).to_contain_text(f"{done} minutes done, {planned} planned")
    minutes = [float(each.split("min")[0]) for each in desk.locator(".lines .n").all_inner_texts()]
    assert abs(sum(minutes) - int(done) - int(planned)) <= len(minutes)  # each is rounded


def test_sixteen_teams_fit_on_one_sheet(desk: Any) -> None:
    """Eight teams of the demo club, each of them twice."""
    desk.evaluate(
        "() => { const rows = document.querySelector('.block-table tbody');"
        " rows.append(...[...rows.children].map(each => each.cloneNode(true))); }"
    )
    desk.emulate_media(media="print")
    printed = desk.pdf(prefer_css_page_size=True)
    sizes = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", printed)
    assert len(sizes) == 1
    wide, high = (float(each) / MM for each in sizes[0])
    assert (round(wide), round(high)) == (297, 210)


def test_blocks_are_made_changed_and_filled_by_hand(desk: Any, demo_site: Any) -> None:
    desk.goto(demo_site.address(week_addresses.block_targets()))
    first = desk.locator("input[name^=share-]").first
    name, value = first.get_attribute("name"), first.input_value()
    first.fill("300")
    desk.click("main button.go")
    expect(desk.locator("main")).to_contain_text("100")
    assert desk.locator(f"input[name={name}]").input_value() == "300"  # nothing is lost
    desk.fill(f"input[name={name}]", value or "5")
    desk.click("main button.go")
    expect(desk).to_have_url(re.compile("/club/blocks/$"))
