"""A session put together in a browser: the page waits by itself, then keep one, refuse one, and take it over."""

import threading

from django.db import connection

from tests.harness.people import signed_in


def _work_out_next() -> None:
    """What the worker does with the job that was handed over last, in a thread as it does."""
    from sessions.models import Computation
    from sessions.proposals import actions

    waiting = Computation.objects.filter(state="waiting").first()
    assert waiting is not None
    actions.work_out_proposal(public_id=str(waiting.public_id))
    connection.close()


def _worker() -> None:
    thread = threading.Thread(target=_work_out_next)
    thread.start()
    thread.join()


def test_a_coach_has_tonight_put_together(demo_site, phone) -> None:
    from tests.browser.addresses import COACH, session_tonight

    signed_in(phone.context, demo_site, COACH)
    phone.goto(demo_site.address(session_tonight()))
    phone.locator(".more-acts > summary").click()
    phone.get_by_role("link", name="Suggest a session").click()
    assert phone.locator("[type=checkbox][name^=keep]:checked").count() == 0
    phone.locator("[name=length]").fill("50")
    phone.get_by_role("button", name="Suggest a session").click()
    phone.get_by_text("Waiting for its turn").wait_for()
    _worker()
    phone.get_by_role("button", name="Use this session").first.wait_for()  # without a tap
    first = phone.locator("section.part h2").all_inner_texts()
    phone.locator("[name=keep]").first.check()
    phone.locator("[name=refuse]").nth(1).check()
    phone.get_by_role("button", name="Suggest again").click()
    phone.get_by_text("Waiting for its turn").wait_for()
    _worker()
    phone.get_by_role("button", name="Use this session").first.wait_for()
    second = phone.locator("section.part h2").all_inner_texts()
    assert [each.split("  ")[0][:12] for each in second[:1]] == [first[0][:12]]
    assert first[1][3:15] not in " ".join(second)
    phone.get_by_role("button", name="Use this session").first.click()
    phone.get_by_role("button", name="Replace them").click()  # what the session had is named once more
    phone.get_by_text("It is in the session, with tonight's numbers.").wait_for()
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360
