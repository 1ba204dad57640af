"""Seasons, age groups, squads and players."""

from datetime import date, timedelta
from typing import Any

from django.apps import apps
from django.db import transaction
from django.db.backends.postgresql.psycopg_any import DateRange
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext as _

from club.actions.conflicts import action, lock_row
from club.actions.saving import change, locked, save_checked
from club.choices import NamesOn
from club.errors import Clash, FieldProblem, Refused
from club.lasting import BETWEEN_READINGS
from club.limits import LINE, NAME
from club.models import AccessLog, AgeGroup, Player, PlayerOut, PlayerSquad, Season, Squad, SquadSeason
from club.queries.settings import today

MOST_AT_ONCE = 40
DIGITS = "0123456789"


@action
def add_season(*, name: str, first_day: date, last_day: date) -> Season:
    """A season, last day included. Refused when it overlaps another."""
    if last_day < first_day:
        raise Refused(_("The last day is before the first."), "last_day")
    period = DateRange(
        first_day, last_day + timedelta(days=1)
    )  # as the database keeps it: the end is outside
    other = Season.objects.filter(period__overlap=period).first()
    if other:
        words = _("These days overlap the season %(name)s.") % {"name": other.name}
        raise Refused(words, "first_day")
    return save_checked(Season(name=name.strip(), period=period))


@action
def add_age_group(*, season: Season, **values: Any) -> AgeGroup:
    """An age group of a season; `values` are the model's own fields."""
    return save_checked(AgeGroup(season=season, **values))


@action
def change_age_group(*, age_group: AgeGroup, version: int, **values: Any) -> AgeGroup:
    return change(age_group, version, values)


@action
def add_squad(*, name: str, age_group: AgeGroup) -> Squad:
    """A squad in an age group, for the age group's season."""
    squad = save_checked(Squad(name=name.strip()))
    SquadSeason.objects.create(squad=squad, age_group=age_group, season=age_group.season)
    return squad


@action
def change_squad(*, squad: Squad, version: int, name: str) -> Squad:
    return change(squad, version, {"name": name.strip()})


@action
def place_squad(*, squad: Squad, age_group: AgeGroup) -> SquadSeason:
    """Put a squad into an age group for the age group's season, or move it to another one there."""
    row, _made = SquadSeason.objects.update_or_create(
        squad=squad, season=age_group.season, defaults={"age_group": age_group}
    )
    return row


@action
def retire_squad(*, squad: Squad, version: int) -> Squad:
    return change(squad, version, {"retired_at": timezone.now()})


@action
def add_player(
    *,
    squad: Squad,
    display_name: str,
    shirt: int | None = None,
    is_keeper: bool = False,
    since: date | None = None,
) -> Player:
    """A player of a squad: a name for the list and a shirt number, nothing else."""
    since = since or today()
    _refuse_shirt_taken(squad, shirt, since, None)
    player = save_checked(Player(display_name=display_name.strip(), shirt=shirt, is_keeper=is_keeper))
    _join(player, squad, since)
    return player


@action
def add_players(*, squad: Squad, lines: str) -> list[Player]:
    """Several players at once, one a line: a name, and a shirt number before or after it. All of them or none."""
    wanted = [line.strip() for line in lines.splitlines() if line.strip()]
    if not wanted:
        raise Refused(_("Write one player a line."), "lines")
    if len(wanted) > MOST_AT_ONCE:
        words = _("At most %(most)d at once; these are %(n)d.") % {"most": MOST_AT_ONCE, "n": len(wanted)}
        raise Refused(words, "lines")
    made, problems = [], []
    for number, line in enumerate(wanted, start=1):
        try:
            with transaction.atomic():
                made.append(add_player(squad=squad, **read_player(line)))
        except Refused as error:
            problems += [
                FieldProblem("lines", _("Line %(n)d: %(text)s") % {"n": number, "text": each.text})
                for each in error.problems
            ]
    if problems:
        raise Refused(problems)
    return made


def read_player(line: str) -> dict[str, Any]:
    """A line of the list: "7 Ada", "Ada 7" or "Ada"."""
    # Stripped from both ends, never searched for: a pattern with two open ends goes over a long line again and again.
    name = " ".join(line[: LINE + 1].split())
    unnumbered = name.lstrip(DIGITS)
    before = name[: -len(unnumbered)] if unnumbered[:1] in tuple(" .,;") else ""
    name = unnumbered.lstrip(" .,;") if 1 <= len(before) <= 3 else name
    unnumbered = name.rstrip(DIGITS)
    after = name[len(unnumbered) :] if unnumbered[-1:] in tuple(" ,;") else ""
    name = unnumbered.rstrip(" ,;") if 1 <= len(after) <= 3 else name
    numbers = [int(each) for each in (before, after) if 1 <= len(each) <= 3]
    if len(line) > LINE or len(numbers) > 1 or not any(letter.isalpha() for letter in name):
        words = _("“%(line)s” should be a name with one shirt number at most.")
        raise Refused(words % {"line": line[:NAME]})
    return {"display_name": name, "shirt": numbers[0] if numbers else None}


@action
def change_player(
    *, player: Player, squad: Squad, version: int, display_name: str, shirt: int | None, is_keeper: bool
) -> Player:
    lock_row(Squad, squad.pk)  # a squad before its players, as everywhere
    saved = locked(player, version)
    _refuse_shirt_taken(squad, shirt, today(), saved)
    saved.display_name, saved.shirt, saved.is_keeper = display_name.strip(), shirt, is_keeper
    save_checked(saved)
    still = Q(period__endswith__isnull=True) | Q(period__endswith__gt=today())
    PlayerSquad.objects.filter(still, player=saved).update(shirt=shirt)
    return saved


@action
def move_player(*, player: Player, version: int, to: Squad, on: date | None = None) -> Player:
    """Another squad from a day on; the time in the old squad stays. A number that is worn there is not taken along."""
    day = on or today()
    lock_row(Squad, to.pk)
    moved = locked(player, version)
    leave_squad(player=moved, on=day)
    if _worn_by(to, moved.shirt, day, moved):
        moved.shirt = None
    _join(moved, to, day)
    moved.save()
    return moved


@action
def leave_squad(*, player: Player, on: date | None = None) -> None:
    """End the player's time in the squads of today."""
    day = on or today()
    lock_row(Player, player.pk)
    for row in PlayerSquad.objects.filter(player=player, period__contains=day):
        if row.period.lower is not None and row.period.lower >= day:
            row.delete()
        else:
            row.period = DateRange(row.period.lower, day)
            row.save(update_fields=["period"])


@action
def erase_player(*, player: Player) -> None:
    """Take the name away everywhere in this room, its history included; counts stay, without a person."""
    leave_squad(player=player)
    erased = lock_row(Player, player.pk)
    erased.display_name, erased.shirt, erased.erased_at = "Former player", None, timezone.now()
    erased.version += 1
    erased.save()
    PlayerSquad.objects.filter(player=player).update(shirt=None)
    PlayerOut.objects.filter(player=player).delete()
    history = apps.get_model("club", "PlayerEvent")
    history.objects.filter(pgh_obj_id=player.pk).update(display_name="Former player", shirt=None)


def note_reading(*, user_id: int, squad_ids: list[int], page: NamesOn) -> None:
    """Keep who read the names of which squad, at most once in `BETWEEN_READINGS` for each page. Writes at most once, so it needs no transaction."""
    day = timezone.now() - BETWEEN_READINGS
    seen = set(
        AccessLog.objects.filter(user_id=user_id, squad_id__in=squad_ids, page=page, at__gt=day).values_list(
            "squad_id", flat=True
        )
    )
    fresh = [
        AccessLog(user_id=user_id, squad_id=squad, page=page) for squad in squad_ids if squad not in seen
    ]
    AccessLog.objects.bulk_create(fresh)


def _join(player: Player, squad: Squad, since: date) -> PlayerSquad:
    return PlayerSquad.objects.create(
        player=player, squad=squad, period=DateRange(since, None), shirt=player.shirt
    )


def _refuse_shirt_taken(squad: Squad, shirt: int | None, since: date, but: Player | None) -> None:
    if shirt is not None and not 1 <= shirt <= 99:
        raise Refused(_("A shirt number is from 1 to 99."), "shirt")
    lock_row(Squad, squad.pk)
    other = _worn_by(squad, shirt, since, but)
    if other:
        words = _("Number %(shirt)d is worn by %(name)s.")
        raise Clash(words % {"shirt": shirt, "name": other.display_name}, field="shirt")


def _worn_by(squad: Squad, shirt: int | None, since: date, but: Player | None) -> Player | None:
    """Who wears a number from a day on. The constraint is the rule; with the squad's row held, this finds it first."""
    worn = PlayerSquad.objects.filter(squad=squad, shirt=shirt, period__overlap=DateRange(since, None))
    found = worn.exclude(player=but).select_related("player").first() if shirt is not None else None
    return found.player if found else None
