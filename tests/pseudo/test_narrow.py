"""In a language whose texts are 40 % longer, no page is wider than a phone of 320 px."""

from itertools import groupby

import pytest

from tests.browser.test_axe import PORTIONS
from tests.harness.accessible import TOO_WIDE
from tests.harness.browsers import PHONE
from tests.harness.people import signed_in
from tests.pseudo.language import CLOSES, spoken

SMALL = {**PHONE, "viewport": {"width": 320, "height": 640}}


@pytest.mark.sweep
@pytest.mark.parametrize("portion", PORTIONS)
def test_longer_texts_fit_on_a_small_phone(portion: str, demo_site, browser) -> None:
    found: list[str] = []
    for who, pages in groupby(
        sorted(PORTIONS[portion], key=lambda page: page.who), key=lambda page: page.who
    ):
        context = browser.new_context(**SMALL, locale="en-GB", reduced_motion="reduce")
        signed_in(context, demo_site, who)
        tab = context.new_page()
        for page in pages:
            with spoken():
                tab.goto(demo_site.address(page.path()))
                assert CLOSES in tab.content()
                found += [f"{page.name}: {each}" for each in [", ".join(tab.evaluate(TOO_WIDE))] if each]
        context.close()
    assert found == []
