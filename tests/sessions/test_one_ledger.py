"""One ledger, whatever the order in which it became known what happened: late ratings, days out of order, everything anew.

`BIBRACK_ORDERS=125` plays 125 clubs of eight sessions each instead of a few: 1,000 sessions.
"""

import os
import random
import uuid
from collections.abc import Iterable
from datetime import time, timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.db.models import Sum

from club import queries as club
from sessions import actions, queries
from sessions.bridge import local_moment
from sessions.models import DeliveryEvent, LedgerEntry, Station, TrainingSession
from sessions.queries.ledger import ledger_rows
from sessions.queries.recorded.record import session_record
from tests.factories import player_in
from tests.factories_sessions import part_input, planned_session, shared_drill
from tests.harness.races import race
from tests.people import World

pytestmark = pytest.mark.django_db
SESSIONS = 8
SEEDS = range(int(os.environ.get("BIBRACK_ORDERS", "2")))
HEADING = {"format": "4v1", "groups": [], "conditions": [], "phases": [], "themes": [], "heading": "planned", "headers_per_player": 8}  # fmt: skip
EASY = {"key": "easy", "title": "Feet only", "rung": "easier", "effort": 2, "changes": [{"type": "set_heading", "heading": "none"}]}  # fmt: skip
Snapshot = list[tuple[Any, ...]]


def snapshot() -> Snapshot:
    """Every entry, without the numbers that rows have by chance."""
    fields = ("session_id", "squad_id", "player_id", "day", "minutes", "load_au", "as_run_au", "is_estimated", "headers", "heading_minutes")  # fmt: skip
    return sorted(LedgerEntry.objects.values_list(*fields), key=repr)


def sessions_of(world: World, count: int = SESSIONS) -> list[TrainingSession]:
    drill = shared_drill(owner=world.people.coach, **HEADING, variations=[EASY])
    return [
        planned_session(
            place=world.own,
            by=world.people.coach,
            day=club.today() - timedelta(days=2 * (count - n)),
            parts=[
                part_input(minutes=10, bouts=2, bout_s=240, rest_s=60),
                part_input(drill=drill, minutes=20),
            ],
        )
        for n in range(count)
    ]


def happened(
    session: TrainingSession, players: list[str], chance: random.Random, ratings: int
) -> list[dict[str, Any]]:
    """What a coach may have tapped: a register, some parts, an end, a rating or none, corrections afterwards."""
    zone = club.club_settings().time_zone
    start = local_moment(session.day, session.starts, zone)
    parts = [str(each) for each in session.parts.order_by("position").values_list("public_id", flat=True)]
    found: list[dict[str, Any]] = []

    def add(kind: str, minute: float, **body: Any) -> None:
        at = (start + timedelta(minutes=minute)).isoformat()
        found.append({"id": str(uuid.UUID(int=chance.getrandbits(128))), "kind": kind, "at": at, **body})

    for player in players:
        kind = chance.choice(["arrived", "arrived", "late", "absent", "watching", "limited"])
        add(
            kind,
            chance.randint(0, 20),
            player=player,
            **({"limits": ["no_heading"]} if kind == "limited" else {}),
        )
    if chance.random() < 0.6:
        add("part_started", chance.randint(0, 3), part=parts[0])
        add("next_part", chance.randint(8, 15), part=parts[1])
    if chance.random() < 0.3:
        add("easier", 16, part=parts[1], to="easy")
    if chance.random() < 0.3:
        add("bout_dropped", 17, part=parts[0])
    if chance.random() < 0.3:
        add("undone", 50, event=found[-1]["id"])
    ends = [("delivered", 58), ("delivered", 58), ("shortened", 58), ("cancelled", 5)]
    add(*chance.choice(ends if ratings else ends[:1]))  # what leans on the ratings took place
    if found[-1]["kind"] == "shortened":
        found[-1]["minutes"] = chance.choice([20, 45.5])
    if found[-1]["kind"] == "cancelled":
        found[-1]["reason"] = "weather"
    for late in range(ratings):
        add("effort", 60 + 1440 * late, cr10=chance.choice([3, 4.5, 6, 8]))
    return found


def arrive(world: World, batches: Iterable[tuple[TrainingSession, list[dict[str, Any]]]]) -> None:
    actor = club.actor_of(world.people.coach)
    for session, events in batches:
        outcomes = actions.append_events(actor=actor, session=session, device="test", events=events)
        assert {each.outcome for each in outcomes} <= {"taken", "already"}, outcomes


def in_some_order(
    told: list[tuple[TrainingSession, list[dict[str, Any]]]], chance: random.Random
) -> list[tuple[TrainingSession, list[dict[str, Any]]]]:
    """The same events in batches of one to all, sent in any order, some of them twice."""
    batches = []
    for session, events in told:
        shuffled = chance.sample(events, len(events))
        cut = chance.randint(0, len(shuffled))
        batches += [
            (session, shuffled[:cut]),
            (session, shuffled[cut:]),
            (session, shuffled[: chance.randint(0, 2)]),
        ]
    return chance.sample(batches, len(batches))


@pytest.mark.parametrize("seed", SEEDS)
def test_any_order_of_arrival_and_a_rebuild_leave_one_ledger(world: World, seed: int) -> None:
    chance = random.Random(seed)
    players = [str(world.own.player.public_id)]
    players += [str(player_in(squad=world.own.squad, display_name=f"Child {n}").public_id) for n in (1, 2)]
    made = sessions_of(world)
    # Enough are rated for a factor of their own; the last ones lean on it.
    told = [
        (each, happened(each, players, chance, ratings=(n < 6) * chance.choice([1, 1, 2])))
        for n, each in enumerate(made)
    ]
    arrive(world, told)
    first = snapshot()
    assert first
    assert {row[7] for row in first if row[4]} == {True, False}, "some are estimated, some are rated"
    forget(made)
    arrive(world, in_some_order(told, chance))
    assert snapshot() == first
    for each in chance.sample(made, len(made)):
        actions.rebuild(session=TrainingSession.objects.get(pk=each.pk))
    assert snapshot() == first
    LedgerEntry.objects.all().delete()
    actions.rebuild_all()
    assert snapshot() == first
    assert_sums(world)


def forget(made: list[TrainingSession]) -> None:
    """As if nothing had ever been sent."""
    DeliveryEvent.objects.all().delete()
    LedgerEntry.objects.all().delete()
    TrainingSession.objects.filter(pk__in=[each.pk for each in made]).update(
        last_seq=0, delivery={}, state="planned", delivered_minutes=None, why_cancelled=""
    )


def assert_sums(world: World) -> None:
    """A week's figures are the sums of its entries."""
    squad = world.own.squad
    rows = ledger_rows([squad.pk], club.today() - timedelta(days=60), club.today())
    total = LedgerEntry.objects.filter(squad=squad, player__isnull=True).aggregate(au=Sum("load_au"))["au"]
    assert sum((row.load_au or Decimal(0) for row in rows), Decimal(0)) == (total or 0)


def test_a_late_rating_works_out_anew_what_leaned_on_it(world: World) -> None:
    made = sessions_of(world)
    zone = club.club_settings().time_zone

    def events(session: TrainingSession, *bodies: dict[str, Any]) -> list[dict[str, Any]]:
        at = local_moment(session.day, time(19), zone).isoformat()
        return [{"id": str(uuid.uuid4()), "at": at, **body} for body in bodies]

    done = {"kind": "delivered"}
    arrive(world, [(each, events(each, done)) for each in made])
    assert (
        LedgerEntry.objects.get(session=made[-1]).load_au
        == LedgerEntry.objects.get(session=made[-1]).as_run_au
    )
    for each in made[:4]:  # from the fourth rating on a team has a factor of its own
        arrive(world, [(each, events(each, {"kind": "effort", "cr10": 8}))])
    row = LedgerEntry.objects.get(session=made[-1])
    ratios = [
        float(each.load_au) / float(each.as_run_au) for each in LedgerEntry.objects.filter(is_estimated=False)
    ]
    assert len(ratios) == 4
    assert float(row.load_au) == pytest.approx(float(row.as_run_au) * ratios[0], abs=0.06)
    assert row.is_estimated
    assert queries.squad_factor(world.own.squad.pk, before=club.today()) == pytest.approx(ratios[0])


def test_headers_planned_are_headers_counted_in_the_variation_that_was_played(world: World) -> None:
    made = sessions_of(world, 3)
    at = local_moment(made[0].day, time(19), club.club_settings().time_zone).isoformat()
    parts = [str(each.parts.order_by("position").last().public_id) for each in made]
    told = [
        [{"kind": "delivered"}],
        [{"kind": "easier", "part": parts[1], "to": "easy"}, {"kind": "delivered"}],
        [{"kind": "part_skipped", "part": parts[2]}, {"kind": "delivered"}],
    ]
    arrive(
        world,
        [
            (session, [{"id": str(uuid.uuid4()), "at": at, **each} for each in bodies])
            for session, bodies in zip(made, told, strict=True)
        ],
    )
    headers = [LedgerEntry.objects.get(session=each).headers for each in made]
    planned = [queries.session_view(queries.session_by_id(each.public_id)).headers for each in made[:1]]
    assert (headers, planned) == ([8, 0, 0], [8])


def test_headers_are_counted_for_each_player_who_took_part_and_may_head(world: World) -> None:
    (session,) = sessions_of(world, 1)
    names = ("heads", "feet", "watches", "absent")
    players = {name: player_in(squad=world.own.squad, display_name=f"Child {name}") for name in names}
    key = {name: str(each.public_id) for name, each in players.items()}
    at = local_moment(session.day, time(18, 1), club.club_settings().time_zone).isoformat()
    bodies: list[dict[str, Any]] = [
        {"kind": "arrived", "player": key["heads"]},
        {"kind": "limited", "player": key["feet"], "limits": ["no_heading"]},
        {"kind": "watching", "player": key["watches"]},
        {"kind": "absent", "player": key["absent"]},
        {"kind": "delivered"},
    ]
    arrive(world, [(session, [{"id": str(uuid.uuid4()), "at": at, **each} for each in bodies])])
    rows = LedgerEntry.objects.filter(session=session, player__isnull=False).select_related("player")
    found = {row.player.public_id: (row.headers, float(row.heading_minutes)) for row in rows}
    assert found == {
        players["heads"].public_id: (8, 20),
        players["feet"].public_id: (0, 0),
        players["watches"].public_id: (0, 0),
    }
    team = LedgerEntry.objects.get(session=session, player__isnull=True)
    assert (team.headers, float(team.heading_minutes)) == (8, 20)


def test_headers_of_a_player_are_the_teams_unless_they_head_none(world: World) -> None:
    (made,) = sessions_of(world, 1)
    heads, not_tonight, away = (player_in(squad=world.own.squad, display_name=f"Child {n}") for n in range(3))
    at = local_moment(made.day, time(18), club.club_settings().time_zone).isoformat()
    told = [
        {"kind": "arrived", "player": str(heads.public_id)},
        {"kind": "limited", "player": str(not_tonight.public_id), "limits": ["no_heading"]},
        {"kind": "absent", "player": str(away.public_id)},
        {"kind": "delivered"},
    ]
    arrive(world, [(made, [{"id": str(uuid.uuid4()), "at": at, **each} for each in told])])
    entries = {each.player_id: each for each in LedgerEntry.objects.filter(session=made)}
    assert {key: (each.headers, each.heading_minutes) for key, each in entries.items()} == {
        None: (8, 20),
        heads.pk: (8, 20),
        not_tonight.pk: (0, 0),
    }


def test_headers_are_told_against_the_variation_that_was_planned(world: World) -> None:
    """A set-up that was accepted on another rung makes that rung the station's; planned it was as written."""
    (made,) = sessions_of(world, 1)
    Station.objects.filter(part__session=made, revision__isnull=False).update(
        planned_key="", variation_key="easy"
    )
    at = local_moment(made.day, time(19), club.club_settings().time_zone).isoformat()
    arrive(world, [(made, [{"id": str(uuid.uuid4()), "at": at, "kind": "delivered"}])])
    view = queries.session_view(queries.session_by_id(made.public_id))
    found = session_record(view.row, view.plan)
    assert found is not None
    assert [part.headers_per_player for part in found.plan.parts] == [0, 8]
    assert (found.account.headers, found.entry.headers) == (0, 0)


@pytest.mark.django_db(transaction=True)
def test_two_who_rate_at_the_same_moment_lose_nothing(world: World) -> None:
    made = sessions_of(world)
    at = local_moment(made[0].day, time(19), club.club_settings().time_zone).isoformat()

    def send(session: TrainingSession, *kinds: dict[str, Any]) -> Any:
        return lambda: arrive(
            world, [(session, [{"id": str(uuid.uuid4()), "at": at, **each} for each in kinds])]
        )

    rated = [send(each, {"kind": "delivered"}, {"kind": "effort", "cr10": 8}) for each in made[:5]]
    estimated = [send(each, {"kind": "delivered"}) for each in made[5:]]
    assert race(*rated, *estimated) == {"done": SESSIONS}
    first = snapshot()
    actions.rebuild_all()
    assert snapshot() == first
