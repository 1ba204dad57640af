"""The blocks of a season, and what is meant to be taught in them."""

from collections.abc import Iterable, Mapping
from datetime import date
from uuid import UUID

from club.models import AgeGroup, Block, Season, ThemeTarget
from club.queries.settings import today


def blocks(season: Season) -> list[Block]:
    """A season's blocks in the order of their days."""
    return list(season.blocks.all())  # each knows its season


def block(public_id: UUID | str) -> Block | None:
    """One block with its season."""
    return Block.objects.select_related("season").filter(public_id=public_id).first()


def block_among(blocks: Iterable[Block], day: date | None = None) -> Block | None:
    """Of blocks in order that of a day (today when not said), else the next one to begin, else the last. No query."""
    found, at = list(blocks), day or today()
    return next((each for each in found if each.last_day >= at), found[-1] if found else None)


def shares_of(block: Block, age_group: AgeGroup | None = None) -> Mapping[int, Mapping[str, int]]:
    """By an age group's inner id the percent that is meant for each theme, by the theme's key, in the order of themes."""
    rows = ThemeTarget.objects.filter(block=block).order_by("theme__position", "theme__title")
    if age_group is not None:
        rows = rows.filter(age_group=age_group)
    found: dict[int, dict[str, int]] = {}
    for group, key, share in rows.values_list("age_group_id", "theme__key", "share"):
        found.setdefault(group, {})[key] = share
    return found
