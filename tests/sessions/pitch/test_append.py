"""Events are appended once and folded to one state, whatever way they come in."""

from datetime import UTC, datetime, time, timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from club import queries as club
from club.errors import Refused
from sessions import actions
from sessions.choices import State, WhyCancelled
from sessions.models import DeliveryEvent, LedgerEntry, Rating, Register, SessionStaff, SessionZone
from tests.factories import ZoneFactory
from tests.factories_sessions import planned_session
from tests.sessions.pitch.evening import Evening


def outcomes(found: list[actions.EventOutcome]) -> list[str]:
    return [each.outcome for each in found]


def whole_evening(evening: Evening) -> list[dict[str, Any]]:
    """What two phones might send of one evening."""
    ann, ben, cat = evening.players
    warm, game = evening.parts
    event = evening.event
    return [
        event("arrived", 1, player=ann),
        event("late", 6, player=ben),
        event("arrived", 2, player=cat),
        event("watching", 20, player=cat),
        event("limited", 3, player=ann, limits=["no_contact"], at_most_min=30),
        event("part_started", 0, part=warm),
        event("next_part", 11, part=game),
        event("bout_held", 15, part=game),
        event("bout_resumed", 16, part=game),
        event("minute_more", 30, part=game),
        event("part_ended", 52, part=game),
        event("effort", 55, cr10=6),
        event("effort", 56, cr10=5.5),
        event("note", 57, text="The grid was five metres too long."),
        event("delivered", 60),
    ]


def projections(evening: Evening) -> Any:
    """Everything that is worked out from the events, without row numbers and versions."""
    session = evening.read()
    return (
        session.state,
        session.delivered_minutes,
        session.delivery,
        sorted(
            (str(row.player.public_id), row.state, row.came_at, row.left_at, str(row.limits), row.minutes)
            for row in Register.objects.filter(session=session).select_related("player")
        ),
        list(Rating.objects.filter(session=session).order_by("pk").values_list("player_id", "cr10")),
        sorted(
            LedgerEntry.objects.filter(session=session).values_list(
                "squad_id", "player_id", "minutes", "load_au", "is_estimated"
            ),
            key=str,
        ),
    )


def test_an_evening_becomes_register_rating_ledger_and_state(evening: Evening) -> None:
    assert set(outcomes(evening.append(*whole_evening(evening)))) == {"taken"}
    session = evening.read()
    assert (session.state, session.delivered_minutes, session.last_seq) == (State.DELIVERED, 60, 15)
    ann, ben, cat = evening.players
    register = {
        str(row.player.public_id): (row.state, float(row.minutes), row.limits)
        for row in Register.objects.select_related("player")
    }
    assert register == {ann: ("here", 30.0, []), ben: ("late", 54.0, []), cat: ("watching", 20.0, [])}
    assert list(Rating.objects.values_list("player", "cr10")) == [(None, 5.5)]


def test_load_is_rating_times_minutes(evening: Evening) -> None:
    # session-RPE, Foster et al. 2001, J Strength Cond Res 15(1):109-115: 5.5 x 60 min = 330 AU
    evening.append(*whole_evening(evening))
    squad = LedgerEntry.objects.get(player__isnull=True)
    assert (float(squad.minutes), float(squad.load_au), squad.is_estimated) == (60.0, 330.0, False)
    players = LedgerEntry.objects.filter(player__isnull=False).order_by("-minutes")
    assert [(float(row.minutes), float(row.load_au)) for row in players] == [
        (54.0, 297.0),
        (30.0, 165.0),
        (20.0, 110.0),
    ]


def test_without_a_rating_the_load_is_an_estimate(evening: Evening) -> None:
    evening.append(evening.event("delivered", 60))
    row = LedgerEntry.objects.get()
    # 10 min x 3 + 40 min x 6, two changeovers of a minute at 1, as planned, k = 1
    assert (row.is_estimated, float(row.load_au)) == (True, 272.0)


def test_the_youngest_have_minutes_and_no_load_of_their_own(evening: Evening) -> None:
    group = evening.session.age_group
    group.session_load_au = group.week_load_au = None
    group.save()
    evening.append(evening.event("arrived", player=evening.players[0]), evening.event("delivered", 60))
    assert list(LedgerEntry.objects.filter(player__isnull=False).values_list("minutes", "load_au")) == [
        (60, None)
    ]


def test_shortened_counts_its_minutes_alone(evening: Evening) -> None:
    evening.append(evening.event("effort", cr10=6), evening.event("shortened", 40, minutes=35))
    session, row = evening.read(), LedgerEntry.objects.get()
    assert (session.state, session.delivered_minutes) == (State.SHORTENED, 35)
    assert (float(row.minutes), float(row.load_au)) == (35.0, 210.0)


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_order_doubling_and_batching_leaves_the_same(evening: Evening, data: st.DataObject) -> None:
    DeliveryEvent.objects.filter(session=evening.session).delete()
    evening.session.last_seq = 0
    evening.session.save()
    events = whole_evening(evening)
    for number, each in enumerate(events):  # the same ids in each example
        each["id"] = f"00000000-0000-4000-8000-{number:012}"
    evening.append(*events)
    wanted = projections(evening)
    DeliveryEvent.objects.filter(session=evening.session).delete()
    evening.session.last_seq = 0
    evening.session.save()
    sent = data.draw(st.permutations(events + data.draw(st.lists(st.sampled_from(events), max_size=5))))
    cuts = sorted(data.draw(st.lists(st.integers(0, len(sent)), max_size=3)))
    for first, last in zip([0, *cuts], [*cuts, len(sent)], strict=True):
        evening.append(*sent[first:last])
    assert projections(evening) == wanted
    numbers = DeliveryEvent.objects.filter(session=evening.session).values_list("seq", flat=True)
    assert sorted(numbers) == list(range(1, len(events) + 1))


def test_the_projection_can_be_thrown_away(evening: Evening) -> None:
    evening.append(*whole_evening(evening))
    wanted = projections(evening)
    Register.objects.all().delete()
    Rating.objects.all().delete()
    LedgerEntry.objects.all().delete()
    actions.rebuild(session=evening.read())
    assert projections(evening) == wanted


def test_the_same_again_changes_nothing(evening: Evening) -> None:
    event = evening.event("effort", cr10=5)
    assert outcomes(evening.append(event, event)) == ["taken", "already"]
    assert outcomes(evening.append(event)) == ["already"]
    assert (DeliveryEvent.objects.count(), evening.read().last_seq) == (1, 1)


def test_the_same_moment_in_another_zone_is_the_same_content(evening: Evening) -> None:
    event = evening.event("effort", cr10=5)
    evening.append(event)
    elsewhere = datetime.fromisoformat(event["at"]).astimezone(UTC).replace(tzinfo=None).isoformat() + "Z"
    assert outcomes(evening.append({**event, "at": elsewhere, "id": event["id"].upper()})) == ["already"]


def test_other_content_under_the_same_id_is_a_conflict_and_the_first_stands(evening: Evening) -> None:
    event = evening.event("effort", cr10=5)
    evening.append(event)
    (outcome,) = evening.append({**event, "cr10": 9})
    assert (outcome.outcome, outcome.text) == (
        "conflict",
        "This id came before with other content; the first one counts.",
    )
    assert [float(each.cr10) for each in Rating.objects.all()] == [5.0]


def test_five_hundred_at_a_time_and_no_more(evening: Evening) -> None:
    many = [evening.event("note", text=f"Note {number}") for number in range(501)]
    with pytest.raises(Refused, match="At most 500 events"):
        evening.append(*many)
    assert DeliveryEvent.objects.count() == 0
    assert outcomes(evening.append(*many[:500])) == ["taken"] * 500


def test_a_kind_that_is_not_known_is_kept_and_marked(evening: Evening) -> None:
    event = evening.event("corner_kick", to="far post")
    (outcome,) = evening.append(event)
    assert (outcome.outcome, outcome.understood) == ("taken", False)
    assert evening.read().delivery["not_understood"] == [event["id"]]


BAD = [
    ({"kind": "effort", "cr10": 11}, "effort: the CR10 scale ends at 10 (field `cr10`)"),
    ({"kind": "note", "text": ""}, "note: empty (field `text`)"),
    ({"kind": "note", "text": "x" * 501}, "note: too long; characters at most: 500 (field `text`)"),
    ({"kind": "note", "text": "a\x00b"}, "This event holds something that can't be saved."),
    ({"kind": "note", "text": "\ud800"}, "event: it holds something that cannot be written down"),
    ({"id": "seven"}, "The id of an event is a UUID."),
    ({"at": "2026-03-03T18:00:00"}, "event: the time needs its time zone (field `at`)"),
    ({"at": "0001-01-01T00:00:00Z"}, "The time of this event is in no year that a club trains in."),
    ({"kind": "arrived", "player": "seven"}, "The player of an event is named by a UUID."),
    (
        {"kind": "effort", "cr10": 5, "player": "x"},
        "effort: single players are not rated in this age group; rate the group",
    ),
    ({"kind": "drill", "long": "x" * 17_000}, "event: it is too long (17011 bytes; 16384 at most)"),
]


@pytest.mark.parametrize(("changes", "text"), BAD, ids=[each[1][:30] for each in BAD])
def test_what_can_not_be_taken_is_refused_in_words_and_the_rest_is_taken(
    evening: Evening, changes: dict[str, Any], text: str
) -> None:
    good = evening.event("effort", cr10=5)
    found = evening.append({**evening.event("delivered"), **changes}, good)
    assert [(each.outcome, each.text) for each in found] == [("refused", text), ("taken", "")]


def test_what_is_no_object_is_refused(evening: Evening) -> None:
    assert outcomes(evening.append("arrived", 7, None)) == ["refused"] * 3


def test_a_guest_is_added_by_their_own_coach_or_the_director(evening: Evening) -> None:
    guest = evening.event("guest", player=evening.guest)
    (refused,) = evening.append(guest)
    assert (refused.outcome, refused.text) == (
        "refused",
        "A guest is added by the coach of their own team, or by the director.",
    )
    director = club.actor_of(evening.people.director)
    assert outcomes(
        evening.append(guest, evening.event("late", 8, player=evening.guest), actor=director)
    ) == [
        "taken",
        "taken",
    ]
    assert Register.objects.get().is_guest


def test_a_guests_load_follows_the_player(evening: Evening, world: Any) -> None:
    director = club.actor_of(evening.people.director)
    guest = evening.event("guest", player=evening.guest)
    evening.append(guest, evening.event("effort", cr10=5), evening.event("delivered", 60), actor=director)
    row = LedgerEntry.objects.get(player__isnull=False)
    assert (row.squad_id, float(row.load_au)) == (world.colleague.squad.pk, 300.0)


def test_what_happened_to_a_guest_may_come_in_before_the_guest(evening: Evening) -> None:
    director = club.actor_of(evening.people.director)
    evening.append(evening.event("late", 8, player=evening.guest), actor=director)
    evening.append(evening.event("guest", 1, player=evening.guest), actor=director)
    row = Register.objects.get()
    assert (row.is_guest, row.state) == (True, "late")


def test_a_player_of_nobody_elses_squad_is_not_on_the_list(evening: Evening) -> None:
    (outcome,) = evening.append(evening.event("arrived", player=evening.foreign))
    assert (outcome.outcome, outcome.text) == ("refused", "This player is not on the list of the team.")


def test_limits_are_gone_once_the_session_is_over(evening: Evening) -> None:
    evening.append(evening.event("limited", player=evening.players[0], limits=["no_heading"], at_most_min=30))
    assert Register.objects.get().limits == ["no_heading", "at most 30 min"]
    evening.append(evening.event("delivered", 60))
    assert Register.objects.get().limits == []


def test_a_note_does_not_bring_back_what_was_called_off(evening: Evening) -> None:
    session = evening.read()
    actions.cancel_session(session=session, version=session.version, why=WhyCancelled.PITCH)
    evening.append(evening.event("note", text="Frozen solid."))
    assert (evening.read().state, evening.read().why_cancelled) == (State.CANCELLED, WhyCancelled.PITCH)


def test_called_off_at_the_pitch_and_taken_back(evening: Evening) -> None:
    evening.append(evening.event("cancelled", 1, reason="too_few"))
    assert (evening.read().state, evening.read().why_cancelled) == (State.CANCELLED, WhyCancelled.TOO_FEW)
    evening.append(evening.event("as_planned", 2))
    assert (evening.read().state, evening.read().why_cancelled) == (State.PLANNED, "")


def test_calling_off_at_the_pitch_gives_place_and_people_free_as_long_as_it_is_off(
    evening: Evening, world: Any
) -> None:
    taken, free = ZoneFactory(), ZoneFactory()
    session, coach = evening.read(), evening.people.coach
    SessionZone.objects.bulk_create(
        SessionZone(session=session, zone=zone, period=session.period) for zone in (taken, free)
    )
    SessionStaff.objects.create(session=session, user=coach, part="leads", period=session.period)
    evening.append(evening.event("cancelled", 1, reason="weather"))
    assert (session.bookings.count(), session.staff.count()) == (0, 0)
    evening.append(evening.event("note", 2, text="Frozen solid."))
    other = planned_session(place=world.colleague, zones=[taken], starts=time(18), ends=time(19))
    evening.append(evening.event("as_planned", 3))
    assert [each.zone for each in session.bookings.all()] == [free]
    assert [(each.user, each.part) for each in session.staff.all()] == [(coach, "leads")]
    assert other.bookings.count() == 1


def test_a_player_who_left_the_squad_since_stays_on_the_register(evening: Evening, world: Any) -> None:
    from club import actions as club_actions

    evening.append(*whole_evening(evening))
    wanted = Register.objects.count()
    club_actions.leave_squad(player=world.own.player, on=evening.session.day + timedelta(days=1))
    actions.rebuild(session=evening.read())
    assert Register.objects.count() == wanted == 3


def test_nobody_appends_nothing(evening: Evening) -> None:
    from club.actor import NOBODY

    with pytest.raises(Refused, match="Nobody is signed in"):
        evening.append(evening.event("delivered"), actor=NOBODY)


def test_teams_of_a_night_are_kept_until_it_is_over(evening: Evening) -> None:
    evening.append(evening.event("teams_set", 1, teams=[evening.players[:1], evening.players[1:]]))
    assert list(evening.read().delivery["teams"]) == [""]
    evening.append(evening.event("delivered", 60))
    assert evening.read().delivery["teams"] == {}


@pytest.mark.parametrize("number", range(3))
def test_whoever_came_has_an_entry_wherever_others_who_did_not_stand(evening: Evening, number: int) -> None:
    came, others = (
        evening.players[number],
        [each for each in evening.players if each != evening.players[number]],
    )
    marks = [
        evening.event("arrived", 0, player=came),
        *(evening.event("absent", 0, player=each) for each in others),
    ]
    evening.append(*marks, evening.event("delivered", 60))
    entries = LedgerEntry.objects.filter(session=evening.session, player__isnull=False)
    assert [str(each) for each in entries.values_list("player__public_id", flat=True)] == [came]
