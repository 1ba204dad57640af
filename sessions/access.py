"""Who may do what with which session, slot or squad's week: the object, or a 404 that says nothing about it."""

from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.http import Http404

from club import queries as club
from club.actor import Actor
from sessions import queries
from sessions.choices import Reach
from sessions.models import Fixture, LedgerEntry, Part, Slot, Station, TrainingSession
from sessions.queries import turns
from sessions.queries.calendar.links import CalendarOf
from sessions.queries.calendar.taking import fixture_by_id


def session_for_reading(actor: Actor, public_id: UUID | str) -> TrainingSession:
    """A session as planned, without players' names: director, readers and coaches all; helpers those they help."""
    return found(queries.session_by_id(public_id), lambda row: may_read(actor, row))


def session_to_show(actor: Actor, public_id: UUID | str) -> TrainingSession:
    """The same with all that its page says of others: the kit that they hold meanwhile, and who is out."""
    return found(queries.session_among_others(public_id), lambda row: may_read(actor, row))


def session_for_planning(actor: Actor, public_id: UUID | str) -> TrainingSession:
    """A session to be written: the coaches of its age group, and the director."""
    return found(queries.session_by_id(public_id), lambda row: actor.plans_for(row.age_group_id))


def session_of_squad(actor: Actor, squad: Any, public_id: UUID | str) -> TrainingSession:
    """A session of this squad to be written: its planners."""
    row = queries.session_by_id(public_id)
    return found(row, lambda row: row.squad_id == squad.pk and actor.plans_for(row.age_group_id))


def session_to_edit(actor: Actor, public_id: UUID | str) -> TrainingSession:
    """A session whose parts are to be written, with the kit that others hold meanwhile: its planners."""
    row = queries.session_among_others(public_id)
    return found(row, lambda row: actor.plans_for(row.age_group_id))


def session_for_recording(actor: Actor, public_id: UUID | str) -> TrainingSession:
    """A session at the pitch, with its players: the staff of its age group, and the director."""
    return found(queries.session_by_id(public_id), lambda row: actor.works_with(row.age_group_id))


def session_for_turns(actor: Actor, public_id: UUID | str) -> TrainingSession:
    """A session with its register and turns, which names stand behind: whoever records it."""
    return found(turns.session_with_turns(public_id), lambda row: actor.works_with(row.age_group_id))


def session_to_reuse(actor: Actor, public_id: UUID | str) -> TrainingSession:
    """A session to be used again, its parts in outline: whoever reads it."""
    return found(queries.session_in_one(public_id), lambda row: may_read(actor, row))


def part_in(session: TrainingSession, public_id: UUID | str) -> Part:
    """A part of a session that has been asked for already."""
    every = {str(part.public_id): part for part in session.parts.all()}
    return found(every.get(str(public_id)), lambda row: True)


def station_in(session: TrainingSession, public_id: UUID | str) -> Station:
    """A station of a session that has been asked for already."""
    every = [each for part in session.parts.all() for each in part.stations.all()]
    return found(
        next((each for each in every if str(each.public_id) == str(public_id)), None), lambda row: True
    )


def slot_for_planning(actor: Actor, public_id: UUID | str) -> Slot:
    """A slot that a session may be put in: coaches of its squad's age group, and the director."""
    return found(queries.slot_by_id(public_id), lambda row: actor.plans_for(row.age_group_id))


def slot_for_reading(actor: Actor, public_id: UUID | str) -> Slot:
    """A slot with its squad, place and coaches: everybody on the staff."""
    return found(queries.slot_by_id(public_id), lambda row: actor.is_staff or actor.is_administrator)


def slot_for_editing(actor: Actor, public_id: UUID | str) -> Slot:
    """A slot to be changed: the director alone."""
    return found(queries.slot_by_id(public_id), lambda row: actor.is_director)


def sees_weeks(actor: Actor, age_group_id: int | None) -> bool:
    """Whether the weeks of a team of this age group may be seen (no names in them): its staff, the director and readers."""
    return actor.is_reader or actor.works_with(age_group_id)


def age_group_for_weeks(actor: Actor, public_id: UUID | str) -> Any:
    """An age group of the season whose weeks may be seen: its staff, the director and readers."""
    group = next((each for each in club.age_groups() if str(each.public_id) == str(public_id)), None)
    return found(group, lambda row: sees_weeks(actor, row.pk))


def squad_for_weeks(actor: Actor, public_id: UUID | str) -> Any:
    """A squad whose weeks may be seen (no names in them): its staff, the director and readers."""
    return found(club.squad(UUID(str(public_id))), lambda row: sees_weeks(actor, row.age_group_id))


def squad_for_planning(actor: Actor, public_id: UUID | str) -> Any:
    """A squad whose week may be added to: its coaches, and the director."""
    return found(club.squad(UUID(str(public_id))), lambda row: actor.plans_for(row.age_group_id))


def entry_for_editing(actor: Actor, squad: Any, public_id: UUID | str) -> LedgerEntry:
    """What was entered by hand for a squad that this person plans for."""
    entry = LedgerEntry.objects.filter(squad_id=squad.pk, player__isnull=True, public_id=public_id).first()
    return found(entry, lambda row: actor.plans_for(squad.age_group_id))


def squads_for_planning(actor: Actor) -> list[Any]:
    """The squads whose days this person may write."""
    return [each for each in club.squads() if actor.plans_for(each.age_group_id)]


def fixture_for_planning(actor: Actor, public_id: UUID | str) -> Fixture:
    """A match of a squad that this person plans for."""
    row = fixture_by_id(public_id)
    return found(row, lambda row: row.squad_id in {each.pk for each in squads_for_planning(actor)})


def may_mend(actor: Actor, steps: Iterable[Any]) -> bool:
    """Whether this person plans for every session that changes."""
    touched = [
        row for each in steps for row in (each.session, getattr(each, "host", None)) if row is not None
    ]
    return all(actor.plans_for(row.age_group_id) for row in touched)


def own_calendar(actor: Actor) -> CalendarOf:
    """One's own calendar."""
    return CalendarOf(Reach.PERSON, club.own_account(actor))


def calendar_of_team(actor: Actor, public_id: UUID | str) -> CalendarOf:
    """A team's calendar, to be given to others: its coaches, and the director."""
    return CalendarOf(Reach.TEAM, squad_for_planning(actor, public_id))


def calendar_of_pitch(public_id: UUID) -> CalendarOf:
    """A pitch's calendar, to be given to others: whoever may ask for it at all."""
    return CalendarOf(Reach.PITCH, found(club.pitch(public_id), lambda row: True))


def may_read(actor: Actor, session: TrainingSession) -> bool:
    return reads_sessions(actor, session.age_group_id)


def reads_sessions(actor: Actor, age_group_id: int | None) -> bool:
    """Whether the sessions of an age group may be read: by coaches all of them, by helpers those of their own."""
    if actor.is_director or actor.is_reader or actor.is_coach:
        return True
    return actor.works_with(age_group_id)


def found(row: Any, allowed: Any) -> Any:
    """The row that is there and allowed. Raises Http404."""
    if row is None or not allowed(row):
        raise Http404
    return row
