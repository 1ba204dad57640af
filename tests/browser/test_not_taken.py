"""What the server does not take is said where the thumb is, and holds nothing else up; a phone's wrong clock is put right."""

import uuid
from collections.abc import Callable
from datetime import timedelta
from typing import Any

from django.templatetags.static import static
from django.utils import timezone
from playwright.sync_api import expect

from tests.browser.at_the_pitch import PATIENCE_MS, Pitch

PUT = """async ([store, events]) => {
  const { write } = await import(store);
  const { account, session, events: url } = JSON.parse(document.getElementById("about").textContent);
  await write(["outbox"], (outbox) => {
    for (const event of events) outbox.put({ account, session, id: event.id, v: 1, url, event });
  });
}"""


def kept_on(phone: Pitch, *events: dict[str, Any]) -> None:
    """As if these had been tapped before the phone was put away."""
    phone.page.evaluate(PUT, [static("sessions/phone/store.js"), list(events)])


def event(kind: str, **body: Any) -> dict[str, Any]:
    return {"id": str(uuid.uuid4()), "kind": kind, "at": timezone.now().isoformat(), **body}


def test_one_odd_event_holds_nothing_up_and_is_said_where_the_thumb_is(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.open("part")
    deep: Any = "end"
    for _ in range(40):  # deeper than the server reads: the whole batch comes back
        deep = [deep]
    odd = event("note", text="x", deep=deep)
    wrong = event("shortened", minutes=599)
    kept_on(
        phone,
        event("note", text="First."),
        odd,
        event("note", text="Second."),
        wrong,
        event("effort", cr10=4),
    )
    phone.page.reload()
    phone.arrived(3)
    assert sorted(kind for kind, _body in phone.events()) == ["effort", "note", "note"]
    box = phone.page.locator("#refused")
    expect(box).to_be_visible(timeout=PATIENCE_MS)
    for said in (
        "Not taken: the server could not read it. Do it once more.",
        "Not taken: minutes: the session is 75 minutes; 599 is longer than it can have lasted",
    ):
        expect(box.locator("p")).to_contain_text(said, timeout=PATIENCE_MS)
    below = phone.page.locator(".tools").bounding_box()
    shown = box.bounding_box()
    assert shown["y"] + shown["height"] <= below["y"] + 1
    phone.page.click("#refused-read")
    expect(box).to_be_hidden()


def test_two_phones_an_hour_apart_show_one_clock(pitch: Callable[..., Pitch]) -> None:
    phone = pitch()
    phone.page.clock.set_fixed_time(timezone.now() + timedelta(hours=1))
    phone.page.clock.resume()
    phone.open("part")
    phone.page.evaluate("() => document.querySelector('[data-do=minute]')?.click()")
    phone.go("after")
    phone.page.click("#efforts button >> nth=4")
    phone.arrived(2)
    from sessions.actions.projections import event_of
    from sessions.models import DeliveryEvent

    for row in DeliveryEvent.objects.filter(session=phone.session):
        assert abs(event_of(row).corrected_at - timezone.now()) < timedelta(minutes=5)
        assert row.at - timezone.now() > timedelta(minutes=50)
    other = pitch("helper@demo.example")
    other.open("after")
    expect(other.page.locator('#efforts button[aria-pressed="true"]')).to_have_count(1)
