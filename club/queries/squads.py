"""Age groups, squads and their players. Names of players go through `players_of` only."""

from collections.abc import Iterable
from datetime import date
from uuid import UUID

from django.db.backends.postgresql.psycopg_any import DateRange
from django.db.models import Count, Exists, OuterRef, Q, QuerySet

from club.models import AccessLog, AgeGroup, Player, PlayerSquad, Season, Squad, SquadSeason, User
from club.queries.safeguarding import is_out
from club.queries.settings import current_season, running_season, today


def age_groups(season: Season | None = None) -> list[AgeGroup]:
    """The age groups of a season (the running one when not said), youngest first."""
    chosen = season or running_season()
    return list(AgeGroup.objects.filter(season=chosen).select_related("season"))


def age_group(public_id: UUID) -> AgeGroup | None:
    return AgeGroup.objects.select_related("season").filter(public_id=public_id).first()


def squads(season: Season | None = None, *, age_group_ids: Iterable[int] | None = None) -> QuerySet[Squad]:
    """Squads of a season, each with `age_group_id`, `age_group_label` and `player_count` on the day."""
    day = today()
    chosen = season or running_season(day)
    found = Squad.objects.filter(retired_at__isnull=True, seasons__season=chosen)
    shown = (
        found.annotate(
            player_count=Count(
                "players",
                filter=Q(players__period__contains=day, players__player__erased_at__isnull=True),
                distinct=True,
            ),
        )
        .with_age_group()
        .order_by("seasons__age_group__position", "name")
    )
    if age_group_ids is None:
        return shown
    # By the annotation, which stands for this season's row: another season's age group must not let a squad in.
    return shown.filter(age_group_id__in=list(age_group_ids))


def squad(public_id: UUID) -> Squad | None:
    """One squad with `age_group_id` and `age_group_label` of the running season."""
    return squads().filter(public_id=public_id).first()


def players_of(squad_ids: Iterable[int], on: date | None = None) -> list[Player]:
    """Players of these squads on a day, by name, each with `squad_id`, and `is_out` until it is lifted. The caller has asked `access` first."""
    day = on or today()
    return list(
        Player.objects.filter(
            squads__squad_id__in=list(squad_ids), squads__period__contains=day, erased_at__isnull=True
        )
        .annotate(is_out=is_out())
        .with_squad()
        .order_by("display_name")
    )


def players_by_id(public_ids: Iterable[str], on: date | None = None) -> list[Player]:
    """Players by their outer ids, each with the `squad_id` of a day, and `is_out`.

    Who left on that very day, or was erased on it, was there until then: what was recorded of them stays counted.
    """
    day = on or today()
    there = Q(squads__period__contains=day) | Q(squads__period__endswith=day)
    found = Player.objects.filter(there, public_id__in=set(public_ids)).annotate(is_out=is_out()).with_squad()
    return list({each.pk: each for each in found.order_by("squads__period")}.values())


def times_in_squads(
    first: date, last: date, *, squad_ids: Iterable[int] = (), player_ids: Iterable[int] = ()
) -> list[PlayerSquad]:
    """Who was in these squads, and where these players were, between two days, both included; each with player and squad.

    Erased players are among them, since counts stay: whoever shows names leaves them out. The caller has asked `access` first.
    """
    asked = Q(squad_id__in=list(squad_ids)) | Q(player_id__in=list(player_ids))
    days = DateRange(first, last, "[]")
    found = PlayerSquad.objects.filter(asked, period__overlap=days).select_related("player", "squad")
    return list(found.order_by("player__display_name", "player_id", "period"))


def squad_of_player(public_id: str, on: date | None = None) -> Squad | None:
    """The squad that a player is in on a day, with its age group; None for a player that isn't there."""
    season = current_season(on) if on else None
    return squads(season).filter(pk__in=_there(public_id, on or today()).values("squad_id")).first()


def _there(public_id: str, day: date) -> QuerySet[PlayerSquad]:
    return PlayerSquad.objects.filter(
        player__public_id=public_id, player__erased_at__isnull=True, period__contains=day
    )


def squads_beside_a_players(public_id: UUID | str) -> list[Squad]:
    """Every squad of the season, `is_theirs` for those that a player is in today: the first of them is `squad_of_player`."""
    theirs = _there(str(public_id), today()).filter(squad=OuterRef("pk"))
    return list(squads().annotate(is_theirs=Exists(theirs)))


def player(public_id: UUID | str) -> Player | None:
    """A player that has not been erased, in a squad today or not."""
    return Player.objects.filter(public_id=public_id, erased_at__isnull=True).first()


def players_without_squad() -> list[Player]:
    """Players who are in no squad today: they left, or their season is over."""
    here = PlayerSquad.objects.filter(period__contains=today()).values("player_id")
    return list(Player.objects.filter(erased_at__isnull=True).exclude(pk__in=here).order_by("display_name"))


def squads_without_place() -> list[Squad]:
    """Squads in use that have no age group in the running season yet."""
    placed = SquadSeason.objects.filter(season=running_season()).values("squad_id")
    return list(Squad.objects.filter(retired_at__isnull=True).exclude(pk__in=placed))


def squad_in_use(public_id: UUID) -> Squad | None:
    """One squad, placed in the running season or not."""
    return Squad.objects.filter(public_id=public_id, retired_at__isnull=True).first()


def readings(reader: User | None = None) -> QuerySet[AccessLog]:
    """Who read the names of which squad's players and where, newest first; of one person if said."""
    found = AccessLog.objects.select_related("user", "squad")
    return found.filter(user=reader) if reader else found


def readers() -> list[User]:
    """Everybody who has read players' names lately, by name."""
    return list(User.objects.filter(pk__in=AccessLog.objects.values("user_id")).order_by("name", "pk"))
