"""Pitches and zones, kit and bibs, themes, the club's settings."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.utils import timezone
from django.utils.text import slugify
from django.utils.translation import gettext as _

from club.actions.conflicts import action, lock_row, lock_rows
from club.actions.saving import change, save_checked
from club.errors import FieldProblem, Refused
from club.models import BibStock, ClubSettings, KitStock, Pitch, Theme, Zone
from club.queries.settings import forget_settings


@action
def save_settings(*, version: int, **values: Any) -> ClubSettings:
    """The one row of settings; made when it isn't there yet."""
    forget_settings()
    row = ClubSettings.objects.filter(id=1).first()
    if row is None:
        # The first save raises the version like any other: who began with none as well is stale.
        return save_checked(ClubSettings(id=1, version=version + 1, **values))
    return change(row, version, values)


@action
def add_pitch(*, zones: list[dict[str, Any]], **values: Any) -> Pitch:
    """A pitch with its zones; a pitch without zones can't be booked, so at least one is needed."""
    if not zones:
        raise Refused(_("A pitch needs at least one space: the whole of it, if it is never shared."), "zones")
    pitch = save_checked(Pitch(**values))
    for position, zone in enumerate(zones):
        save_checked(Zone(pitch=pitch, position=position, **zone))
    return pitch


@action
def change_pitch(*, pitch: Pitch, version: int, **values: Any) -> Pitch:
    return change(pitch, version, values)


@action
def retire_pitch(*, pitch: Pitch, version: int) -> Pitch:
    return change(pitch, version, {"retired_at": timezone.now()})


@action
def add_zone(*, pitch: Pitch, **values: Any) -> Zone:
    lock_row(Pitch, pitch.pk)  # so that no two zones get the same place in its order
    return save_checked(Zone(pitch=pitch, position=pitch.zones.count(), **values))


@action
def change_zone(*, zone: Zone, version: int, **values: Any) -> Zone:
    return change(zone, version, values)


@action
def set_kit(*, kind: str, count: int, position: int | None = None) -> KitStock:
    """How many there are of a kind of kit; a new kind is added to the list."""
    row = next(iter(lock_rows(KitStock.objects.filter(kind__iexact=kind.strip()))), None)
    if row is None:
        return _new_kit(kind, count, position)
    return change(row, row.version, {"count": count})


@action
def set_bibs(*, colour: str, count: int, position: int | None = None) -> BibStock:
    row = next(iter(lock_rows(BibStock.objects.filter(colour__iexact=colour.strip()))), None)
    if row is None:
        return _new_bibs(colour, count, position)
    return change(row, row.version, {"count": count})


def _new_kit(kind: str, count: int, position: int | None = None) -> KitStock:
    place = KitStock.objects.count() if position is None else position
    return save_checked(KitStock(kind=kind.strip().lower(), count=count, position=place))


def _new_bibs(colour: str, count: int, position: int | None = None) -> BibStock:
    place = BibStock.objects.count() if position is None else position
    return save_checked(BibStock(colour=colour.strip().lower(), count=count, position=place))


@dataclass(frozen=True)
class StockChange:
    """A new count of a row that showed `was` when it was typed; `field` names the input."""

    field: str
    public_id: UUID
    was: int
    count: int


@action
def save_stock(*, kit: list[StockChange], bibs: list[StockChange]) -> None:
    """Several counts at once. Refused when somebody set one of them to another number in the meantime."""
    problems = []
    for model, changes in ((KitStock, kit), (BibStock, bibs)):
        rows: dict[UUID, Any] = {
            row.public_id: row
            for row in lock_rows(model._default_manager.filter(public_id__in=[c.public_id for c in changes]))
        }
        for each in changes:
            row = rows.get(each.public_id)
            if row is not None and row.count in (each.was, each.count):
                change(row, row.version, {"count": each.count})
                continue
            if row is None:
                text = _("This is no longer on the list. Look again, then save.")
            else:
                text = _("Somebody set this to %(n)d. Look again, then save.") % {"n": row.count}
            problems.append(FieldProblem(each.field, text))
    if problems:
        raise Refused(problems)


@action
def add_stock(*, kind: str = "", colour: str = "", count: int) -> KitStock | BibStock:
    """A kind of kit or a colour of bibs that is not on the list yet."""
    taken = (
        KitStock.objects.filter(kind__iexact=kind.strip()) if kind else BibStock.objects.filter(colour=colour)
    )
    if taken.exists():
        raise Refused(_("It is on the list already: type over its number."), "kind" if kind else "colour")
    # Made, never found: who adds the same at this moment must not write over the other's number.
    return _new_kit(kind, count) if kind else _new_bibs(colour, count)


@action
def add_theme(*, title: str, moment: str) -> Theme:
    """A theme with a key of its own, made from its title; drills name the key."""
    key = slugify(title)[:40].strip("-")
    if not key:
        raise Refused(_("Say in a few words what is taught."), "title")
    if Theme.objects.filter(key=key).exists():
        raise Refused(_("There is a theme with this name already."), "title")
    return save_checked(Theme(key=key, title=title.strip(), moment=moment, position=Theme.objects.count()))


@action
def add_themes(*, themes: Iterable[tuple[str, str, str]]) -> None:
    """Themes in their order, each with key, title and moment; one that the club has stays as it is. One query."""
    rows = [
        Theme(key=key, title=title, moment=moment, position=position)
        for position, (key, title, moment) in enumerate(themes)
    ]
    Theme.objects.bulk_create(rows, ignore_conflicts=True)


@action
def set_theme(*, key: str, title: str, moment: str, position: int = 0) -> Theme:
    row, _made = Theme.objects.update_or_create(
        key=key, defaults={"title": title, "moment": moment, "position": position}
    )
    return row
