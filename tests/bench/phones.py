"""Two hundred phones, five hundred events each, over ways that drop, double and reorder: nothing lost, nothing twice, one end.

Ten phones record one session. Each phone sends batches of odd sizes; of some the answer never arrives, so they are sent
again; the phones' clocks are wrong; phones take turns at random. Afterwards every event is there once, and the state is what
the events make in any other order.
"""

import random
import time
import uuid
from datetime import timedelta
from typing import Any

from django.utils import timezone

SESSIONS, PHONES, EVENTS = 20, 10, 500
LOST, TWICE = 0.2, 0.2  # shares of batches whose answer is lost, and that come twice
SKEW_S = 3 * 60 * 60


def test_two_hundred_phones(demo_database: Any) -> None:
    from club.models import User
    from club.queries import actor_of
    from sessions import actions
    from sessions.actions.projections import _plan, event_of, rebuild
    from sessions.models import DeliveryEvent, TrainingSession
    from sessions.planning.fold import fold

    chance = random.Random(200)
    actor = actor_of(User.objects.get(email="director@demo.example"))
    rows = [
        *TrainingSession.objects.filter(parts__isnull=False, last_seq=0).distinct().order_by("day")[:SESSIONS]
    ]
    assert len(rows) == SESSIONS
    sent = taken = already = 0
    began = time.perf_counter()
    for session in rows:
        phones = [_phone(chance, session) for _ in range(PHONES)]
        left = [(phone, list(phone["events"])) for phone in phones]
        while left:
            phone, waiting = chance.choice(left)
            batch = waiting[: chance.randint(60, EVENTS)]
            times = 2 if chance.random() < TWICE else 1
            for _ in range(times):
                outcomes = actions.append_events(
                    actor=actor,
                    session=session,
                    device=phone["device"],
                    events=chance.sample(batch, len(batch)),
                    phone_now=timezone.now() + phone["skew"],
                )
                sent += len(batch)
                taken += sum(each.outcome == "taken" for each in outcomes)
                already += sum(each.outcome == "already" for each in outcomes)
                assert {each.outcome for each in outcomes} <= {"taken", "already"}
            if chance.random() >= LOST:  # else the phone doesn't know, and sends it again
                del waiting[: len(batch)]
            left = [each for each in left if each[1]]
        wanted = {each["id"] for phone in phones for each in phone["events"]}
        stored = [
            str(each)
            for each in DeliveryEvent.objects.filter(session=session).values_list("event_id", flat=True)
        ]
        assert (len(stored), set(stored)) == (PHONES * EVENTS, wanted)
        events = [event_of(row) for row in DeliveryEvent.objects.filter(session=session)]
        chance.shuffle(events)
        session.refresh_from_db()
        before = session.delivery
        assert fold(_plan(session), events) == rebuild(session=session)
        session.refresh_from_db()
        assert session.delivery == before
    took = time.perf_counter() - began
    print(
        f"\n{len(rows)} sessions × {PHONES} phones × {EVENTS} events: {sent} sent, {taken} taken, {already} known already, "
        f"0 lost, 0 doubled, one state each; {took:.0f} s, {1000 * took / sent:.2f} ms an event that was sent"
    )


def _phone(chance: random.Random, session: Any) -> dict[str, Any]:
    skew = timedelta(seconds=chance.randint(-SKEW_S, SKEW_S))
    parts = [str(each.public_id) for each in session.parts.all()]
    begins = timezone.now() - timedelta(hours=2) + skew
    kinds = (
        "part_started",
        "bout_held",
        "bout_resumed",
        "minute_more",
        "next_part",
        "heads",
        "thunder",
        "effort",
        "part_ended",
    )
    events = []
    for number in range(EVENTS):
        kind = chance.choice(kinds)
        event = {"id": str(uuid.UUID(int=chance.getrandbits(128), version=4)), "kind": kind}
        event["at"] = (begins + timedelta(seconds=number * 10 + chance.random())).isoformat()
        if kind in ("heads", "thunder"):
            event |= {"count": chance.randint(8, 20)} if kind == "heads" else {}
        elif kind == "effort":
            event["cr10"] = chance.randint(0, 10)
        else:
            event["part"] = chance.choice(parts)
        events.append(event)
    return {"device": f"phone-{chance.getrandbits(32):08x}", "skew": skew, "events": events}
