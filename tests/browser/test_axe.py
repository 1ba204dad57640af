"""Every page, in every colour scheme: no violation that axe knows of, nothing wider than the phone."""

from itertools import groupby

import pytest

from tests.browser.pages import PAGES
from tests.harness.accessible import PALE, complaints, pale_by_axe, pale_in_other_schemes
from tests.harness.browsers import PHONE
from tests.harness.people import signed_in

UNLIKE = [page for page in PAGES if not page.like]
PORTIONS = {f"every fourth from {number}": UNLIKE[number::4] for number in range(4)}


@pytest.mark.sweep
@pytest.mark.parametrize("portion", PORTIONS)
def test_no_page_keeps_anybody_out(portion: str, demo_site, browser) -> None:
    found: list[str] = []
    for who, pages in groupby(
        sorted(PORTIONS[portion], key=lambda page: page.who), key=lambda page: page.who
    ):
        context = browser.new_context(**PHONE, locale="en-GB", reduced_motion="reduce")
        signed_in(context, demo_site, who)
        tab = context.new_page()
        for page in pages:
            tab.goto(demo_site.address(page.path()))
            found += complaints(tab, page.name) + pale_in_other_schemes(tab, page.name)
        context.close()
    assert found == []


def test_what_cannot_be_read_is_seen_by_axe_and_by_our_own_sum(phone) -> None:
    words = '<html lang="en"><title>A page</title><body><main style="background:#ddd"><h1>Plain</h1>{}</main>'
    for style, pale in (
        ("color:#767676; background:#fff", 0),  # 4.54 : 1
        ("color:#777; background:#fff", 1),  # 4.48 : 1
        ("color:#777", 1),
        ("color:#777; background:#fff; font-size:24px", 0),
        ("color:#777; background:#fff; font: bold 18px serif", 1),
        ("color:rgb(0 0 0 / 50%)", 1),
        ("color:#111; background:rgb(0 0 0 / 10%)", 0),
    ):
        phone.set_content(words.format(f'<p style="{style}">Words</p>'))
        found = (pale_by_axe(phone), len(phone.evaluate(PALE)))
        assert (style, found) == (style, (pale, pale))
