"""Sessions that were put together on purpose: who is with whom, and what is counted over all of them."""

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db.models import Count, F, OuterRef, QuerySet, Subquery
from django.db.models.functions import Coalesce, JSONObject

from club.ages import Ages
from club.queries.ready_made import ReadyArray
from sessions.choices import STILL_TO_COME, State
from sessions.models import SessionStaff, SessionZone, Together, TrainingSession

# Of somebody who is down for a session: what decides whether they count as an adult on its day.
OF_AN_ADULT = {
    "pk": "user_id",
    "of_age": "user__checks__of_age",
    "vetting_until": "user__checks__vetting_until",
}


@dataclass(frozen=True)
class Companion:
    """Another session that this one is together with; `staff` are plain rows: pk, of_age, vetting_until."""

    id: str
    title: str
    group: str
    squad: str
    players: int
    ages: Ages
    match_format: str
    staff: tuple[dict[str, Any], ...]

    @property
    def team(self) -> str:
        """`U11 Reds`."""
        return f"{self.group} {self.squad}"


def companion_rows() -> ReadyArray:
    """The sessions that an outer one is together with, at the same time and not off, as plain rows."""
    key = Together.objects.filter(session=OuterRef(OuterRef("pk"))).values("key")
    adult = JSONObject(**OF_AN_ADULT)
    staff = SessionStaff.objects.filter(session=OuterRef("pk")).order_by("pk").values(row=adult)
    found = (
        TrainingSession.objects.filter(together__key__in=key, period__overlap=OuterRef("period"))
        .exclude(pk=OuterRef("pk"))
        .exclude(state=State.CANCELLED)
        .order_by("pk")
    )
    row = JSONObject(
        id="public_id",
        title="title",
        group="age_group__label",
        squad="squad__name",
        players="players_expected",
        under="age_group__under",
        years="age_group__years",
        over="age_group__over",
        match_format="age_group__match_format",
        staff=ReadyArray(staff),
    )
    return ReadyArray(found.values(row=row))


def share_row() -> dict[str, Any]:
    """For a booking: by how many sessions its zone is shared, and which share is its own, counted from the bottom."""
    sharing = (
        SessionZone.objects.filter(
            zone=OuterRef("zone"), together=OuterRef("together"), period__overlap=OuterRef("period")
        )
        .order_by()
        .values("zone")
        .annotate(n=Count("pk"))
        .values("n")
    )
    before = sharing.filter(session__lt=OuterRef("session"))
    return {"shares": Coalesce(Subquery(sharing), 1), "share_at": Coalesce(Subquery(before), 0)}


def companions(session: TrainingSession) -> list[Companion]:
    """Whom a session is together with. No query where it was read with its frame."""
    rows: list[dict[str, Any]] | None = getattr(session, "companion_rows", None)
    if rows is None:
        found = TrainingSession.objects.filter(pk=session.pk).annotate(rows=companion_rows())
        rows = found.values_list("rows", flat=True).first() or []
    return [_companion(each) for each in rows]


def _companion(row: dict[str, Any]) -> Companion:
    return Companion(
        id=str(row["id"]),
        title=row["title"],
        group=row["group"],
        squad=row["squad"],
        players=row["players"],
        ages=Ages(row["under"], row["years"], row["over"]),
        match_format=row["match_format"],
        staff=tuple(row["staff"]),
    )


def key_of(session: TrainingSession) -> UUID:
    """The key that its zones and people are booked under."""
    key: UUID | None = Together.objects.filter(session=session).values_list("key", flat=True).first()
    return key or session.public_id


def members_of(key: UUID) -> list[TrainingSession]:
    """The sessions with a key of several; none for a session's own."""
    return list(TrainingSession.objects.filter(together__key=key).order_by("pk"))


def shared_words(session: TrainingSession) -> tuple[str, str]:
    """The first zone or adult that a session shares, and the team that it shares it with; empty for none."""
    key = key_of(session)
    zone = (
        SessionZone.objects.filter(together=key, zone__in=session.bookings.values("zone"))
        .exclude(session=session)
        .select_related("zone__pitch", "session__squad", "session__age_group")
        .first()
    )
    if zone is not None:
        return str(zone.zone), _team(zone.session)
    person = (
        SessionStaff.objects.filter(together=key, user__in=session.staff.values("user"))
        .exclude(session=session)
        .select_related("user", "session__squad", "session__age_group")
        .first()
    )
    return (person.user.name, _team(person.session)) if person else ("", "")


def _team(session: TrainingSession) -> str:
    return f"{session.age_group.label} {session.squad.name}"


def at_the_same_time(session: TrainingSession) -> QuerySet[TrainingSession]:
    """Sessions still to come that run at the same time and aren't together with it yet, in order of team. One query."""
    mine = Together.objects.filter(session=session).values("key")
    return (
        TrainingSession.objects.filter(period__overlap=session.period, state__in=STILL_TO_COME)
        .exclude(pk=session.pk)
        .exclude(pk__in=Together.objects.filter(key__in=mine).values("session"))
        .select_related("age_group", "squad")
        .order_by("age_group__position", "squad__name", F("pk"))
    )
