"""Blocks of a season, and what is meant to be taught in them."""

from collections.abc import Mapping
from datetime import date, timedelta

from django.db.backends.postgresql.psycopg_any import DateRange
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from club.actions.conflicts import action, lock_row
from club.actions.first_blocks import begin_with, in_weeks
from club.actions.saving import change, locked, save_checked
from club.errors import FieldProblem, Refused
from club.models import AgeGroup, Block, Season, Theme, ThemeTarget

MOST_BLOCKS = 20
LEAST_SHARE, MOST_SHARE = 1, 100


@action
def add_block(*, season: Season, name: str, first_day: date, last_day: date) -> Block:
    """A block, last day included. Refused outside its season, and over another one."""
    lock_row(Season, season.pk)
    if season.blocks.count() >= MOST_BLOCKS:
        raise Refused(_("A season has at most {most} blocks.").format(most=MOST_BLOCKS), "name")
    return save_checked(
        Block(season=season, name=name.strip(), period=_period(season, first_day, last_day, None))
    )


@action
def change_block(*, block: Block, version: int, name: str, first_day: date, last_day: date) -> Block:
    period = _period(block.season, first_day, last_day, block)
    return change(block, version, {"name": name.strip(), "period": period})


@action
def remove_block(*, block: Block, version: int) -> None:
    """The block and its targets; sessions stay as they are."""
    locked(block, version).delete()


@action
def divide_season(*, season: Season) -> list[Block]:
    """Blocks of some weeks each from the first Monday on, for a season that has none; each with targets to begin with."""
    lock_row(Season, season.pk)
    if season.blocks.exists():
        raise Refused(_("This season has blocks already."))
    blocks = [
        save_checked(
            Block(season=season, name=_("Block {number}").format(number=number), period=DateRange(*days))
        )
        for number, days in enumerate(in_weeks(season.period.lower, season.period.upper), start=1)
    ]
    themes = list(Theme.objects.all())
    groups = list(AgeGroup.objects.filter(season=season))
    ThemeTarget.objects.bulk_create(
        ThemeTarget(block=block, age_group=group, theme=theme, share=share)
        for number, block in enumerate(blocks)
        for group in groups
        for theme, share in begin_with(themes, group.under, number)
    )
    return blocks


@action
def set_targets(
    *, block: Block, age_group: AgeGroup, version: int, shares: Mapping[str, int | None]
) -> Block:
    """Of an age group's minutes in a block, the share of each theme in percent, by the theme's key; None or 0 is none.

    Refused: a share outside 1 to 100. Together they may come to more than 100: a drill may serve two themes.
    """
    problems = [
        FieldProblem(share_field(key), _("From 1 to 100 percent, or empty."))
        for key, share in shares.items()
        if share and not LEAST_SHARE <= share <= MOST_SHARE
    ]
    if problems:
        raise Refused(problems)
    if age_group.season_id != block.season_id:
        raise Refused(_("This age group belongs to another season."))
    row = locked(block, version)
    row.save(update_fields=["version"])
    ThemeTarget.objects.filter(block=row, age_group=age_group).delete()
    for theme in Theme.objects.filter(key__in=[key for key, share in shares.items() if share]):
        save_checked(ThemeTarget(block=row, age_group=age_group, theme=theme, share=shares[theme.key]))
    return row


def share_field(key: str) -> str:
    """What the field of a theme's share is called in forms and messages."""
    return f"share-{key}"


def _period(season: Season, first_day: date, last_day: date, own: Block | None) -> DateRange:
    if last_day < first_day:
        raise Refused(_("The last day is before the first."), "last_day")
    ends = season.last_day
    if first_day < season.period.lower or last_day > ends:
        words = _("The season runs from {first} to {last}.").format(
            first=date_format(season.period.lower), last=date_format(ends)
        )
        raise Refused(words, "first_day" if first_day < season.period.lower else "last_day")
    period = DateRange(first_day, last_day + timedelta(days=1))
    others = Block.objects.filter(period__overlap=period)
    other = (others.exclude(pk=own.pk) if own else others).first()
    if other:
        raise Refused(_("These days overlap {name}.").format(name=other.name), "first_day")
    return period
