"""Three weeks of training: two that have been, with registers and ratings, and the one that runs."""

import uuid
from collections.abc import Mapping
from datetime import date, datetime, timedelta
from random import Random
from typing import Any

from bibrack.demo import library
from bibrack.demo.evenings import EVENINGS, SLOTS, Planned, PlannedDrill, WeeklySlot
from bibrack.demo.library import CHANGEOVER_FROM_U10_S, CHANGEOVER_S
from bibrack.demo.words import GROUPS, TIME_ZONE
from club import queries as club
from club.models import AgeGroup, Squad, User, Zone
from drills.models import Drill
from sessions import actions
from sessions import queries as training
from sessions.actions import DayAndTimes, ZonesAndStaff
from sessions.actions.parts import PartInput
from sessions.bridge import local_moment
from sessions.choices import Kind, PartKind, WhyCancelled
from sessions.ics.table import cells_of, valued
from sessions.models import Fixture, Slot, TrainingSession

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
# The youngest have three adults: one stays with the children while the others lay the next part.
HELPERS = {
    "U7": ("helper.young@demo.example", "helper.elevens@demo.example"),
    "U8": ("helper.young@demo.example", "helper.tens@demo.example"),
    "U9": ("helper.young@demo.example", "helper.tens@demo.example"),
    "U10": ("helper.tens@demo.example",),
    "U11": ("helper.elevens@demo.example",),
    "U12": ("helper@demo.example",),
    "U14": ("helper.old@demo.example",),
    "U16": ("helper.old@demo.example",),
}
EXPECTED = {"U7": 10, "U16": 14}  # players; twelve of all others
AHEAD_WEEKS = 4  # of matches
EMPTY_NEXT_WEEK = ("U11", "U16", "U8")
NOTES = (
    "Grid a little long for this many; five metres shorter was better.",
    "Second variation worked at once. Begin there next time.",
    "Lively. The question between rounds brought more than the freeze did.",
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
    demo.add_days_ahead()


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
        self.documents = dict(library.documents())
        self.minutes = {each.label: each.minutes for each in GROUPS}
        self.turn = dict.fromkeys(groups, 0)
        self.wanted: list[tuple[date, Slot, WeeklySlot, list[int]]] = []
        self.random = Random(7)
        self.comings = Random(11)  # of its own, so that ratings and notes stay as they are
        self.zone_name = club.club_settings().time_zone

    def add_slot(self, weekly: WeeklySlot) -> None:
        weekday = (self.today.weekday() + weekly.shift) % 7
        ends = (
            datetime.combine(self.today, weekly.starts) + timedelta(minutes=self.minutes[weekly.group])
        ).time()
        people = [self.staff[each] for each in (LEADERS[weekly.group], *HELPERS[weekly.group])]
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
            if (week == 1 and weekly.group in EMPTY_NEXT_WEEK) or not self._in_season(weekly.group, day):
                continue
            self.wanted.append((day, slot, weekly, [each.pk for each in people]))

    def _in_season(self, group: str, day: date) -> bool:
        """Near the ends of a season the three weeks are shorter."""
        period = self.groups[group].season.period
        return bool(period.lower <= day < period.upper)

    def add_sessions(self) -> None:
        """In the order of days, so that a squad's evenings follow one another."""
        for day, slot, weekly, people in sorted(self.wanted, key=lambda each: (each[0], each[1].pk)):
            self.add_session(weekly, slot, day, people)

    def add_session(self, weekly: WeeklySlot, slot: Slot, day: date, people: list[int]) -> None:
        evening = self._evening(weekly.group)
        actor = club.actor_of(self.staff[LEADERS[weekly.group]])
        session = actions.plan_session(
            age_group_id=self.groups[weekly.group].pk,
            squad_id=slot.squad_id,
            when=DayAndTimes(day, slot.starts, slot.ends),
            place=ZonesAndStaff(tuple(self.zones[each].pk for each in weekly.zones), tuple(people)),
            slot=slot,
            title=evening.title,
            theme_id=self._theme(evening.theme),
            players_expected=EXPECTED.get(weekly.group, 12),
        )
        session = actions.save_parts(
            actor=actor,
            session=session,
            version=session.version,
            parts=[self._part(each, weekly.group) for each in evening.parts],
        )
        session = self._set_up(session)
        if day < self.today:
            self._deliver(session, actor)

    def _evening(self, group: str) -> Planned:
        evenings = EVENINGS[group]
        self.turn[group] += 1
        return evenings[(self.turn[group] - 1) % len(evenings)]

    def _theme(self, key: str) -> int | None:
        return next((each.pk for each in club.themes() if each.key == key), None)

    def _part(self, planned: PlannedDrill, group: str) -> PartInput:
        between = CHANGEOVER_S if (self.groups[group].under or 0) < 10 else CHANGEOVER_FROM_U10_S
        slug, _, variation = planned.drill.partition(":")
        part = library.ReadyPart(
            PartKind(planned.kind), slug, planned.rounds, variation, planned.changeover_s
        )
        return library.part_of(part, self.documents[slug], self.drills[slug], between)

    def _set_up(self, session: TrainingSession) -> TrainingSession:
        """Each part in the nearest set-up for those who are expected, on what is booked."""
        fresh = training.session_by_id(session.public_id) or session
        evening = training.evening_typed(fresh, players=fresh.players_expected)
        for part in fresh.parts.all():
            for station in part.stations.all():
                best = actions.fitted(station, evening)[0]
                actions.put_setup(station, evening, numbers=best.numbers, grids=best.grids)
        return fresh

    def _deliver(self, session: TrainingSession, actor: Any) -> None:
        """What the phone would have sent: the register, an effort, a note, and that it took place."""
        starts = local_moment(session.day, session.starts, self.zone_name)
        ends = local_moment(session.day, session.ends, self.zone_name)
        events = []
        for each in club.players_of([session.squad_id], on=session.day):
            there = self.random.random() >= 0.15
            events.append(self._event("arrived" if there else "absent", starts, player=str(each.public_id)))
            events += self._not_all_of_it(starts, str(each.public_id)) if there else []
        view = training.session_view(training.session_by_id(session.public_id) or session)
        events += self._by_the_clock(view)
        mean = view.planned_au / view.plan.minutes
        rating = max(1.0, min(10.0, round((mean + self.random.uniform(-0.3, 0.1)) * 2) / 2))
        events.append(self._event("effort", ends, cr10=rating))
        if self.random.random() < 0.6:
            events.append(self._event("note", ends, text=self.random.choice(NOTES)))
        events.append(self._event("delivered", ends))
        actions.append_events(actor=actor, session=session, device="demo", events=events)

    def _by_the_clock(self, view: Any) -> list[dict[str, Any]]:
        """Each part begun within half a minute of its time; every third coach leaves the phone in the bag."""
        if view.row.pk % 3 == 0 or not view.parts:
            return []
        begun = [
            self._event(
                "next_part" if each.number > 1 else "part_started",
                each.times.starts_at + timedelta(seconds=(each.row.pk * 7) % 30),
                part=str(each.row.public_id),
            )
            for each in view.parts
        ]
        last = view.parts[-1]
        ended = self._event(
            "part_ended", last.times.ends_at + timedelta(seconds=12), part=str(last.row.public_id)
        )
        return [*begun, ended]

    def _not_all_of_it(self, starts: datetime, player: str) -> list[dict[str, Any]]:
        """One in ten comes late, one in twenty goes early, one in thirty watches."""
        chance = self.comings.random()
        if chance < 0.10:
            return [
                self._event("late", starts + timedelta(minutes=1), self.comings, player=player, minutes=10)
            ]
        if chance < 0.15:
            return [self._event("left", starts + timedelta(minutes=40), self.comings, player=player)]
        return [self._event("watching", starts, self.comings, player=player)] if chance < 0.18 else []

    def _event(self, kind: str, at: datetime, ids: Random | None = None, **body: Any) -> dict[str, Any]:
        return {
            "id": str(uuid.UUID(int=(ids or self.random).getrandbits(128), version=4)),
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

    def add_days_ahead(self) -> None:
        """League matches on the Saturdays ahead, as a coach would paste them, and a half-term after what is planned."""
        saturdays = [self.monday + timedelta(days=7 * week + 5) for week in range(AHEAD_WEEKS)]
        for group in GROUPS[1:]:
            text = "\n".join(
                f"{day},10:00,11:30,League match,{'Mill Field' if number % 2 else 'away'}"
                for number, day in enumerate(saturdays)
                if day >= self.today
            )
            rows = [valued(each, "matches", TIME_ZONE) for each in cells_of(text, "matches")]
            judged = actions.take_matches(squad_id=self.squads[group.label].pk, rows=rows)
            if group.label == "U8" and judged:
                actions.call_off_match(
                    fixture=Fixture.objects.filter(squad=self.squads[group.label]).earliest("day")
                )
        half_term = self.monday + timedelta(weeks=AHEAD_WEEKS + 1)
        actions.close_days(
            title="Half-term", first_day=half_term, last_day=half_term + timedelta(days=6), pitch_id=None
        )
