"""Finding sessions, each with all that its frame shows, and reading the plain rows that came with it."""

from collections.abc import Iterable
from datetime import date, timedelta
from functools import cache
from typing import Any
from uuid import UUID

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import (
    BooleanField,
    Case,
    DateField,
    DateTimeField,
    Exists,
    ExpressionWrapper,
    F,
    FloatField,
    OuterRef,
    Prefetch,
    QuerySet,
    Value,
    When,
    prefetch_related_objects,
)
from django.db.models.functions import Cast, JSONObject, Lower, Upper
from django.http import Http404

from club import queries as club
from club.actor import Actor
from club.queries.ready_made import ReadyArray, ReadySubquery
from sessions.choices import STILL_TO_COME
from sessions.models import (
    LedgerEntry,
    Part,
    SessionLink,
    SessionStaff,
    SessionZone,
    Station,
    TrainingSession,
)
from sessions.planning.load import LAST_SESSIONS
from sessions.queries.counted import LEDGER_ROW
from sessions.queries.recorded.from_last_time import last_time_row
from sessions.queries.together import OF_AN_ADULT, companion_rows, share_row

LOOK_BACK_DAYS = 120
SAME_EVENING = timedelta(hours=4)  # an earlier booking than this leaves time enough for any set-up
_OF_ZONE = {
    "id": "zone__public_id",
    "pk": "zone_id",
    "pitch": "zone__pitch__name",
    "address": "zone__pitch__address",
    "ambulance_gate": "zone__pitch__ambulance_gate",
    "defibrillator": "zone__pitch__defibrillator",
    "zone": "zone__name",
    "length_m": "zone__length_m",
    "width_m": "zone__width_m",
    "position": "zone__position",
    "has_lights": "zone__pitch__has_lights",
    "surface": "zone__pitch__surface",
    "edge_left": "zone__edge_left",
    "edge_right": "zone__edge_right",
    "edge_bottom": "zone__edge_bottom",
    "edge_top": "zone__edge_top",
    "fixed_goals": "zone__fixed_goals",
}
ZONE = JSONObject(**_OF_ZONE)
# A booked one says which share of it is the session's: 0 of 1, unless sessions that are together share it.
_BOOKED = JSONObject(**_OF_ZONE, share_at="share_at", shares="shares")
# A station with a drill as `kit_and_headers_of` reads it.
PLAYED = JSONObject(
    session="part__session_id",
    part="part_id",
    setup="setup",
    evening="evening",
    key="variation_key",
    sha256="revision__sha256",
    document="revision__document",
)
_USER = JSONObject(id="user__public_id", name="user__name", part="part", **OF_AN_ADULT)


def _ratios() -> ReadyArray:
    """Actual load ÷ plan as run of the squad's last rated sessions, latest first; as far back as `squad_factor` looks."""
    rated = LedgerEntry.objects.filter(
        squad_id=OuterRef("squad_id"),
        day__lt=OuterRef("day"),
        day__gte=ExpressionWrapper(
            OuterRef("day") - Value(timedelta(days=LOOK_BACK_DAYS)), output_field=DateField()
        ),
        player__isnull=True,
        session__isnull=False,
        is_estimated=False,
        load_au__isnull=False,
        as_run_au__gt=0,
    ).annotate(ratio=Cast(F("load_au"), FloatField()) / Cast(F("as_run_au"), FloatField()))
    latest = rated.order_by("-day", "-session__starts", "-session_id")
    return ReadyArray(latest.values("ratio")[:LAST_SESSIONS])


def _in_the_ledger() -> ReadySubquery:
    """What stands in the ledger for a session's squad as a whole, as a plain row; None before it is recorded."""
    rows = LedgerEntry.objects.filter(session=OuterRef("pk"), squad=OuterRef("squad"), player__isnull=True)
    row = JSONObject(**{name: name for name in LEDGER_ROW})
    return ReadySubquery(rows.order_by().values(row=row)[:1])


def _squad_out() -> Any:
    """How many of the squad are out until lifted when an outer session begins."""
    return club.out_of_squad("squad_id", "day", Cast(Lower(OuterRef("period")), DateTimeField()))


@cache  # putting so many subqueries together takes longer than asking them; each use filters a copy
def framed() -> QuerySet[TrainingSession]:
    """Sessions with all that their frame shows, zones and people among it, in one query."""
    zones = SessionZone.objects.filter(session=OuterRef("pk")).order_by(
        "zone__pitch__position", "zone__position"
    )
    staff = SessionStaff.objects.filter(session=OuterRef("pk")).order_by("-part", "pk")
    return TrainingSession.objects.select_related("age_group", "squad", "theme", "slot").annotate(
        zone_rows=ReadyArray(zones.annotate(**share_row()).values(row=_BOOKED)),
        staff_rows=ReadyArray(staff.values(row=_USER)),
        load_ratios=_ratios(),
        ledger_row=_in_the_ledger(),
        squad_out=_squad_out(),
        companion_rows=companion_rows(),
    )


def _with_parts(found: QuerySet[TrainingSession], *, with_drills: bool = False) -> QuerySet[TrainingSession]:
    """Parts, each with the titles of its drills; with the pinned revisions where a page plays them."""
    parts = _parts().prefetch_related(_stations()) if with_drills else _parts()
    return found.prefetch_related(Prefetch("parts", queryset=parts))


@cache  # as `framed`
def _parts() -> QuerySet[Part]:
    titles = Station.objects.filter(part=OuterRef("pk")).order_by("position").values("revision__drill__title")
    return Part.objects.annotate(drill_titles=ReadyArray(titles))


def _stations() -> "Prefetch[Any]":
    return Prefetch("stations", queryset=Station.objects.select_related("adult", "revision__drill"))


def bring_drills(sessions: Iterable[TrainingSession]) -> None:
    """Read what these sessions play, where only a few of many need it. One query."""
    prefetch_related_objects([part for each in sessions for part in each.parts.all()], _stations())


def bring_parts(sessions: Iterable[TrainingSession], *, playing: Iterable[TrainingSession]) -> None:
    """Read the parts of these sessions; of some of them what each plays, as plain rows in `played_rows`. One query."""
    stations = Station.objects.filter(
        part=OuterRef("pk"), part__session__in=[each.pk for each in playing], revision__isnull=False
    )
    played = ArraySubquery(stations.order_by("position").values(row=PLAYED))
    parts = _parts().annotate(played_rows=played)
    prefetch_related_objects(list(sessions), Prefetch("parts", queryset=parts))


def session_by_id(public_id: UUID | str, **more: Any) -> TrainingSession | None:
    """One session with its frame, parts and stations, and when its place becomes free; `more` comes along. Three queries."""
    found = _whole().annotate(**more) if more else _whole()
    return found.filter(public_id=public_id).first()


def session_among_others(public_id: UUID | str) -> TrainingSession | None:
    """The same with the kit that others hold meanwhile, who of the club's players is out when it ends, and what the team's
    session before left for it. Three queries."""
    return _among_others().filter(public_id=public_id).first()


@cache
def _among_others() -> QuerySet[TrainingSession]:
    ends = Cast(Upper(OuterRef("period")), DateTimeField())
    return _whole().annotate(
        held_rows=held_meanwhile(), out_at_end=ReadyArray(club.outs_at(ends)), last_time=last_time_row()
    )


@cache
def _whole() -> QuerySet[TrainingSession]:
    return _with_parts(framed().annotate(place_free_from=place_free_from()), with_drills=True)


def held_meanwhile() -> ReadyArray:
    """Stations with a drill of other sessions still to come that run at the same time as an outer one, as plain rows."""
    others = Station.objects.filter(
        part__session__period__overlap=OuterRef("period"),
        part__session__state__in=STILL_TO_COME,
        revision__isnull=False,
    ).exclude(part__session=OuterRef("pk"))
    return ReadyArray(others.order_by("pk").values(row=PLAYED))


def place_free_from() -> ReadySubquery:
    """When the last of an outer session's zones is given up by whoever has it before."""
    own = SessionZone.objects.filter(session=OuterRef(OuterRef("pk"))).values("zone")
    starts = Cast(Lower(OuterRef("period")), DateTimeField())
    before = (
        SessionZone.objects.filter(zone__in=own, period__endswith__lte=starts)
        .filter(period__endswith__gt=starts - SAME_EVENING)
        .exclude(session=OuterRef("pk"))
        .order_by("-period__endswith")
    )
    return ReadySubquery(before.values("period__endswith")[:1])


def sessions_between(
    first: date,
    last: date,
    *,
    age_group_ids: Iterable[int] | None = None,
    squad_id: int | None = None,
) -> list[TrainingSession]:
    """Sessions of these days, both included, with their parts; in order of time. Two queries."""
    return list(_with_parts(frames_between(first, last, age_group_ids=age_group_ids, squad_id=squad_id)))


def frames_between(
    first: date,
    last: date,
    *,
    age_group_ids: Iterable[int] | None = None,
    squad_id: int | None = None,
    with_last_time: bool = False,
) -> QuerySet[TrainingSession]:
    """The same without their parts, if need be with what the team's session before left for each. One query."""
    found = framed().filter(day__range=(first, last))
    if with_last_time:
        found = found.annotate(last_time=last_time_row())
    if age_group_ids is not None:
        found = found.filter(age_group_id__in=list(age_group_ids))
    if squad_id is not None:
        found = found.filter(squad_id=squad_id)
    return found.order_by("day", "starts", "id")


def sessions_list(
    actor: Actor, *, upcoming: bool, age_group_id: int | None = None
) -> QuerySet[TrainingSession]:
    """Sessions to come, soonest first, or those that were, latest first; own age groups before the others'."""
    today = club.today()
    found = _with_parts(_readable(actor))
    found = found.filter(day__gte=today) if upcoming else found.filter(day__lt=today)
    if age_group_id is not None:
        found = found.filter(age_group_id=age_group_id)
    order = ("day", "starts", "id") if upcoming else ("-day", "-starts", "-id")
    own = list(actor.age_groups)
    return found.alias(own=_is_own(own)).order_by("-own", *order) if own else found.order_by(*order)


def _readable(actor: Actor) -> QuerySet[TrainingSession]:
    """The sessions that `access.may_read` allows."""
    if actor.is_director or actor.is_reader or actor.is_coach:
        return framed()
    return framed().filter(age_group_id__in=actor.age_groups)


def sessions_found(
    actor: Actor,
    *,
    first: date | None = None,
    last: date | None = None,
    age_group: UUID | None = None,
    squad: UUID | None = None,
    state: str = "",
) -> QuerySet[TrainingSession]:
    """Sessions that this person may read, in order of time, narrowed by what is given."""
    wanted = {
        "day__gte": first,
        "day__lte": last,
        "age_group__public_id": age_group,
        "squad__public_id": squad,
        "state": state or None,
    }
    given = {name: value for name, value in wanted.items() if value is not None}
    return _readable(actor).filter(**given).order_by("day", "starts", "id")


def _is_own(age_group_ids: list[int]) -> Case:
    return Case(
        When(age_group_id__in=age_group_ids, then=Value(True)), default=False, output_field=BooleanField()
    )


def sources_to_copy(age_group_ids: Iterable[int], first: date, last: date) -> list[TrainingSession]:
    """Sessions of these age groups that have parts, latest first. One query."""
    found = TrainingSession.objects.filter(age_group_id__in=list(age_group_ids), day__range=(first, last))
    return list(
        found.filter(Exists(Part.objects.filter(session=OuterRef("pk")))).order_by("-day", "-starts")[:30]
    )


def zones_of(session: TrainingSession) -> list[dict[str, Any]]:
    """The zones that a session holds, as plain rows: id, pk, pitch, zone, position, lengths, edges, fixed goals, lights."""
    rows = getattr(session, "zone_rows", None)
    if rows is not None:
        return rows
    return list(session.bookings.annotate(**share_row()).values_list(_BOOKED, flat=True))


def staff_rows_of(session: TrainingSession) -> list[dict[str, Any]]:
    """Who is down for a session, the leader first: id, pk, name, part, and what `adults_of` goes by."""
    rows = getattr(session, "staff_rows", None)
    return list(session.staff.order_by("-part", "pk").values_list(_USER, flat=True)) if rows is None else rows


def squad_out_of(session: TrainingSession) -> int:
    """How many of the squad are out until lifted when the session begins."""
    found = getattr(session, "squad_out", None)
    if found is None:
        found = TrainingSession.objects.filter(pk=session.pk).values_list(_squad_out(), flat=True).get()
        session.squad_out = found  # type: ignore[attr-defined]  # asked once for a row that came alone
    return int(found)


def expected_of(session: TrainingSession) -> int:
    """How many players are expected: those that were planned, without who is out until lifted; one at least."""
    return max(1, session.players_expected - squad_out_of(session))


def place_words(session: TrainingSession) -> str:
    """`Mill Field: North half, South half`."""
    return zone_words(zones_of(session))


def zone_words(rows: Iterable[Any]) -> str:
    """Zones by pitch, of a session or a slot: `Mill Field: North half, South half`."""
    by_pitch: dict[str, list[str]] = {}
    for row in rows:
        by_pitch.setdefault(row["pitch"], []).append(row["zone"])
    return "; ".join(f"{pitch}: {', '.join(zones)}" for pitch, zones in by_pitch.items())


def links_of(session: TrainingSession) -> list[club.LinkRow]:
    """The links to a session that are open. One query."""
    return club.link_rows(session.share_links.all())


def session_of_link(secret: str) -> TrainingSession:
    """The session that a link shows now. Four queries. Raises Http404, which does not tell expired from unknown."""
    link = club.link_with(SessionLink.objects.select_related("session"), secret)
    session = session_by_id(link.session.public_id) if link else None
    if session is None:
        raise Http404
    return session
