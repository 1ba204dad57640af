"""Three weeks of training: two that have been, with registers and ratings, and the one that runs."""

import uuid
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from random import Random
from typing import Any

from bibrack.demo.evenings import EVENINGS, SLOTS, WeeklySlot
from bibrack.demo.words import GROUPS
from club import queries as club
from club.models import AgeGroup, Squad, User, Zone
from drills.models import Drill
from sessions import actions
from sessions import queries as training
from sessions.actions import Place, When
from sessions.actions.parts import PartInput, StationInput
from sessions.bridge import local_moment
from sessions.choices import Kind, PartKind, WhyCancelled
from sessions.models import Slot, TrainingSession
from sessions.planning.rounds import on_the_clock

LEADERS = {
    "U7": "coach.young@demo.example",
    "U8": "coach.young@demo.example",
    "U9": "coach.nines@demo.example",
    "U10": "coach.nines@demo.example",
    "U11": "coach.elevens@demo.example",
    "U12": "coach@demo.example",
    "U14": "coach.fourteens@demo.example",
    "U16": "coach.sixteens@demo.example",
}
HELPERS = {
    "U7": "helper.young@demo.example",
    "U8": "helper.young@demo.example",
    "U9": "helper.young@demo.example",
    "U12": "helper@demo.example",
    "U14": "helper.old@demo.example",
    "U16": "helper.old@demo.example",
}
TO_FIT = {
    2: 0,
    3: None,
}  # tonight's parts that are larger than the ground as written, and how many keepers are named
EMPTY_NEXT_WEEK = ("U11", "U16", "U8")
NOTES = (
    "Grid a little long for this many; five metres shorter was better.",
    "Second rung worked at once. Begin there next time.",
    "Lively. The question between bouts brought more than the freeze did.",
    "Late start because of the gate; last part three minutes short.",
)


def add_weeks(
    today: date,
    *,
    groups: Mapping[str, AgeGroup],
    squads: Mapping[str, Squad],
    staff: Mapping[str, User],
    zones: Mapping[tuple[str, str], Zone],
    drills: Mapping[str, Drill],
) -> None:
    """Slots for the season, sessions from two weeks ago to the end of next week, some slots left empty."""
    demo = _Demo(today, groups, squads, staff, zones, drills)
    for each in SLOTS:
        demo.add_slot(each)
    demo.add_sessions()
    demo.add_outside_training()


class _Demo:
    def __init__(
        self,
        today: date,
        groups: Mapping[str, AgeGroup],
        squads: Mapping[str, Squad],
        staff: Mapping[str, User],
        zones: Mapping[tuple[str, str], Zone],
        drills: Mapping[str, Drill],
    ) -> None:
        self.today = today
        self.monday = today - timedelta(days=today.weekday())
        self.groups, self.squads, self.staff = groups, squads, staff
        self.zones, self.drills = zones, drills
        self.minutes = {each.label: each.minutes for each in GROUPS}
        self.turn = dict.fromkeys(groups, 0)
        self.wanted: list[tuple[date, Slot, WeeklySlot, list[int]]] = []
        self.random = Random(7)
        self.zone_name = club.club_settings().time_zone

    def add_slot(self, weekly: WeeklySlot) -> None:
        weekday = (self.today.weekday() + weekly.shift) % 7
        ends = (
            datetime.combine(self.today, weekly.starts) + timedelta(minutes=self.minutes[weekly.group])
        ).time()
        people = [self.staff[LEADERS[weekly.group]]]
        if weekly.group in HELPERS:
            people.append(self.staff[HELPERS[weekly.group]])
        slot = actions.make_slot(
            squad_id=self.squads[weekly.group].pk,
            weekday=weekday + 1,
            starts=weekly.starts,
            ends=ends,
            first_day=self.groups[weekly.group].season.period.lower,
            last_day=self.groups[weekly.group].season.period.upper - timedelta(days=1),
            zone_ids=[self.zones[each].pk for each in weekly.zones],
            coach_ids=[each.pk for each in people],
        )
        for week in (-2, -1, 0, 1):
            day = self.monday + timedelta(days=7 * week + weekday)
            if week == 1 and weekly.group in EMPTY_NEXT_WEEK:
                continue
            self.wanted.append((day, slot, weekly, [each.pk for each in people]))

    def add_sessions(self) -> None:
        """In the order of days, so that a squad's evenings follow one another."""
        for day, slot, weekly, people in sorted(self.wanted, key=lambda each: (each[0], each[1].pk)):
            self.add_session(weekly, slot, day, people)

    def add_session(self, weekly: WeeklySlot, slot: Slot, day: date, people: list[int]) -> None:
        title, theme, parts = self._evening(weekly.group)
        actor = club.actor_of(self.staff[LEADERS[weekly.group]])
        session = actions.plan_session(
            age_group_id=self.groups[weekly.group].pk,
            squad_id=slot.squad_id,
            when=When(day, slot.starts, slot.ends),
            place=Place(tuple(self.zones[each].pk for each in weekly.zones), tuple(people)),
            slot=slot,
            title=title,
            theme_id=self._theme(theme),
            players_expected=12 if weekly.group != "U16" else 14,
        )
        session = actions.save_parts(
            actor=actor,
            session=session,
            version=session.version,
            parts=[self._part(kind, drill, minutes) for kind, drill, minutes in parts],
        )
        if day < self.today:
            self._deliver(session, actor)
        elif day == self.today and weekly.group == "U12":
            for number, keepers in TO_FIT.items():
                self._accept_setup(session, number, keepers)

    def _evening(self, group: str) -> tuple[str, str, tuple[tuple[str, str, int], ...]]:
        evenings = EVENINGS[group]
        self.turn[group] += 1
        return evenings[(self.turn[group] - 1) % len(evenings)]

    def _theme(self, key: str) -> int | None:
        return next((each.pk for each in club.themes() if each.key == key), None)

    def _part(self, kind: str, drill: str, minutes: int) -> PartInput:
        slug, _, variation = drill.partition(":")
        row = self.drills[slug]
        work = row.current_revision.document.get("work", {})
        rounds = on_the_clock(minutes, work.get("bout_s", 180), work.get("rest_s", 45))
        return PartInput(
            kind=PartKind(kind),
            minutes=minutes,
            bouts=rounds.bouts,
            bout_s=rounds.bout_s,
            rest_s=rounds.rest_s,
            changeover_s=0 if kind in ("arrival", "warm-up") else 120,
            effort=float(work.get("effort", 5.0)),
            stations=(StationInput(drill_id=row.public_id, variation_key=variation),),
        )

    def _accept_setup(self, session: TrainingSession, number: int, keepers: int | None) -> None:
        fresh = training.session_by_id(session.public_id) or session
        part = list(fresh.parts.all())[number]
        station = next(iter(part.stations.all()))
        evening = training.evening_typed(fresh, players=12, keepers=keepers)
        best = actions.fitted(station, evening)[0]
        actions.accept_setup(
            session=fresh,
            version=fresh.version,
            station=station,
            evening=evening,
            numbers=best.numbers,
            grids=best.grids,
        )

    def _deliver(self, session: TrainingSession, actor: Any) -> None:
        """What the phone would have sent: the register, an effort, a note, and that it took place."""
        starts = local_moment(session.day, session.starts, self.zone_name)
        ends = local_moment(session.day, session.ends, self.zone_name)
        events = [
            self._event(
                "absent" if self.random.random() < 0.15 else "arrived", starts, player=str(each.public_id)
            )
            for each in club.players_of([session.squad_id], on=session.day)
        ]
        view = training.session_view(training.session_by_id(session.public_id) or session)
        mean = view.planned_au / view.plan.minutes
        rating = max(1.0, min(10.0, round((mean + self.random.uniform(-0.3, 0.6)) * 2) / 2))
        events.append(self._event("effort", ends, cr10=rating))
        if self.random.random() < 0.6:
            events.append(self._event("note", ends, text=self.random.choice(NOTES)))
        events.append(self._event("delivered", ends))
        actions.append_events(actor=actor, session=session, device="demo", events=events)

    def _event(self, kind: str, at: datetime, **body: Any) -> dict[str, Any]:
        return {
            "id": str(uuid.UUID(int=self.random.getrandbits(128), version=4)),
            "kind": kind,
            "at": at.isoformat(),
            **body,
        }

    def add_outside_training(self) -> None:
        """Matches at the weekend, a tournament that takes a squad over its week, a session lost to the weather."""
        for week in (-2, -1):
            for group in GROUPS[1:]:
                saturday = self.monday + timedelta(days=7 * week + 5)
                actions.add_ledger_entry(
                    squad_id=self.squads[group.label].pk,
                    day=saturday,
                    kind=Kind.MATCH,
                    title="League match",
                    minutes=group.match_minutes,
                    effort=6.0,
                    entered_by_id=self.staff[LEADERS[group.label]].pk,
                )
        actions.add_ledger_entry(
            squad_id=self.squads["U14"].pk,
            day=min(self.today, self.monday + timedelta(days=6)),
            kind=Kind.TOURNAMENT,
            title="Autumn tournament",
            minutes=110,
            effort=6.5,
            entered_by_id=self.staff[LEADERS["U14"]].pk,
        )
        coming = training.sessions_between(self.today + timedelta(days=1), self.monday + timedelta(days=13))
        cancelled = next((each for each in coming if each.age_group.label == "U10"), None)
        if cancelled:
            actions.cancel_session(session=cancelled, version=cancelled.version, why=WhyCancelled.WEATHER)
