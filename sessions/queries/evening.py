"""Tonight as a session has it: who is expected, on which ground, with which kit. All that Fit is asked for one begins here."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from club.errors import FieldProblem, Refused
from drills.game.evening import Evening, Piece, PlayerAges, players_of, typed_ground
from drills.game.format import MOST_PLAYERS
from drills.game.space import LONGEST_M
from drills.queries import club_stock
from sessions import bridge
from sessions.models import Station, TrainingSession
from sessions.queries.adults import adults_of
from sessions.queries.rows import expected_of, zones_of
from sessions.queries.spaces import spaces_of

MOST_ADULTS = 20


def ages_of(group: Any) -> PlayerAges:
    """The ages of an age group's players, and its own stored format."""
    return players_of(group.ages, group.a_side)


def pieces_of(session: TrainingSession) -> tuple[Piece, ...]:
    """The ground that a session holds; none where nothing is booked yet."""
    return pieces_in(zones_of(session))


def pieces_in(zones: Any) -> tuple[Piece, ...]:
    """Zones, rows or plain ones, as pieces of ground."""
    return tuple(each.piece for each in spaces_of(zones))


def evening_of(
    session: TrainingSession, *, players: int | None = None, kit: Mapping[str, int] | None = None
) -> Evening:
    """The evening of a session, for drills that a coach has put into it; what nobody has said stays unsaid.

    `kit` is the club's where the caller has it at hand; else it is one query.
    """
    return Evening(
        players=players or expected_of(session),
        adults=adults_of(session).number or None,
        ages=ages_of(session.age_group),
        pieces=pieces_of(session),
        kit=club_stock() if kit is None else kit,
        chosen=True,
    )


def station_evening(
    session: TrainingSession, station: Station, *, kit: Mapping[str, int] | None = None
) -> Evening:
    """What a station is fitted to before anybody types: what its set-up answers, else its share of the session's evening."""
    kept = bridge.evening_kept(station)
    if kept is not None:
        here = _where_it_is_now(kept, pieces_of(session))
        return replace(here, kit=club_stock() if kit is None else kit)
    return _share(evening_of(session, kit=kit), station)


def with_players(evening: Evening, players: int) -> Evening:
    """The same evening with more or fewer players; keepers stay as many as they can."""
    keepers = None if evening.keepers is None else min(players, evening.keepers)
    return replace(evening, players=players, keepers=keepers)


def starting_evening(session: TrainingSession, station: Station) -> Evening:
    """What a coach starts from at a station, its kit left out: the session as it is now; beside others at the same time
    what its set-up answers, else its share. No query.
    """
    kept = bridge.evening_kept(station) if _beside(station) > 1 else None
    if kept is None:
        return _share(evening_of(session, kit={}), station)
    return _where_it_is_now(kept, pieces_of(session))


def _where_it_is_now(kept: Evening, booked: tuple[Piece, ...]) -> Evening:
    """An evening that was kept, on its ground where that is still to be had; else on all that is booked by now.

    A piece that was cut out of a booked one, or lengths that somebody typed, are to be had where there is room for them.
    """
    if not booked:
        return kept
    found = [_still(each, booked) for each in kept.pieces]
    there = tuple(each for each in found if each is not None)
    return kept.on(*(there if found and len(there) == len(found) else booked))


def _still(was: Piece, booked: tuple[Piece, ...]) -> Piece | None:
    here = [each for each in booked if each.key == was.key] if was.key else list(booked)
    same = [each for each in here if was.key and _sides(each) == _sides(was)]
    if same:
        return same[0]  # with what stands at its edges now
    has_room = any(all(a <= b for a, b in zip(_sides(was), _sides(each), strict=True)) for each in here)
    return was if has_room else None


def _sides(piece: Piece) -> tuple[float, float]:
    """The shorter side first."""
    short, long = sorted((piece.length_m, piece.width_m))
    return short, long


def _share(evening: Evening, station: Station) -> Evening:
    return evening if _beside(station) < 2 else evening.for_station(share_of(evening.players, station))


def share_of(players: int, station: Station) -> int:
    """So many of the players are at a station: an even share, the first stations with one more where it doesn't come out.

    A group that stays where it is (the keepers) is as many as its set-up says; the others share who is left. No query.
    """
    stations = list(station.part.stations.all())
    staying = {
        each.pk: kept.players for each in stations if each.stays and (kept := bridge.evening_kept(each))
    }
    moving = [each.pk for each in stations if each.pk not in staying]
    if station.pk in staying:
        return max(1, min(staying[station.pk], players))
    each, over = divmod(max(0, players - sum(staying.values())), len(moving))
    return max(1, each + (moving.index(station.pk) < over))


def _beside(station: Station) -> int:
    return len(station.part.stations.all())


def evening_typed(
    session: TrainingSession,
    *,
    players: int,
    keepers: int | None = None,
    adults: int | None = None,
    length_m: float | None = None,
    width_m: float | None = None,
) -> Evening:
    """The session's evening with what a coach typed for a station; what is left out is as the session has it. One query.

    Raises Refused with what is wrong beside each field.
    """
    if problems := _problems(players, keepers, adults, length_m, width_m):
        raise Refused(problems)
    evening = evening_of(session, players=players)
    return replace(
        evening,
        keepers=keepers,
        adults=evening.adults if adults is None else adults,
        pieces=_ground(evening, length_m, width_m),
    )


def _ground(evening: Evening, length_m: float | None, width_m: float | None) -> tuple[Piece, ...]:
    """The piece that has the lengths that were typed, with all that is known of it; else ground of these lengths."""
    if length_m is None and width_m is None:
        return evening.pieces
    if evening.pieces:
        largest = evening.ground[0]
        length_m, width_m = length_m or largest.length_m, width_m or largest.width_m
    booked = (each for each in evening.pieces if (each.length_m, each.width_m) == (length_m, width_m))
    found = next(booked, None)
    return typed_ground(length_m, width_m) if found is None else (found,)


def _problems(
    players: int, keepers: int | None, adults: int | None, length_m: float | None, width_m: float | None
) -> list[FieldProblem]:
    metres = f"More than 0 and at most {LONGEST_M} m."
    checks = (
        (1 <= players <= MOST_PLAYERS, "players", f"From 1 to {MOST_PLAYERS} players."),
        (length_m is None or 0 < length_m <= LONGEST_M, "length", metres),
        (width_m is None or 0 < width_m <= LONGEST_M, "width", metres),
        (keepers is None or 0 <= keepers <= players, "keepers", "Not more than the players."),
        (adults is None or 0 <= adults <= MOST_ADULTS, "adults", f"From 0 to {MOST_ADULTS} adults."),
    )
    return [FieldProblem(field, text) for fine, field, text in checks if not fine]
