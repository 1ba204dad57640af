"""Rows of the club as the shapes that its endpoints answer with."""

from typing import Any

from club.api import shapes
from club.api_described import shaped


def age_group(row: Any) -> shapes.AgeGroupShape:
    ages = row.ages
    return shaped(
        shapes.AgeGroupShape,
        row,
        id=row.public_id,
        season=row.season.name,
        under_low=ages.under_low,
        under_high=ages.under_high,
        youngest_years=ages.youngest_years,
    )


def squad(row: Any) -> shapes.SquadShape:
    return shaped(shapes.SquadShape, row, id=row.public_id, age_group=row.age_group_label)


def player(row: Any) -> shapes.PlayerShape:
    return shaped(shapes.PlayerShape, row, id=row.public_id, out_until_lifted=row.is_out)


def out_until_lifted(row: Any) -> shapes.PlayerOutShape:
    """From the row that says so; None for a player who is not out."""
    return shapes.PlayerOutShape(
        out_until_lifted=row is not None,
        since=row.since if row else None,
        set_by=row.set_by.name if row and row.set_by else None,
    )


def pitch(row: Any) -> shapes.PitchShape:
    zones = [shaped(shapes.PitchZoneShape, each, id=each.public_id) for each in row.zones.all()]
    return shaped(shapes.PitchShape, row, id=row.public_id, zones=zones)


def kit(row: Any) -> shapes.KitShape:
    return shapes.KitShape(kind=row.kind, colour="", count=row.count)


def bibs(row: Any) -> shapes.KitShape:
    return shapes.KitShape(kind="bibs", colour=row.colour, count=row.count)


def theme(row: Any) -> shapes.ThemeShape:
    return shaped(shapes.ThemeShape, row)


def guideline(row: Any) -> shapes.GuidelineShape:
    return shaped(
        shapes.GuidelineShape,
        row,
        id=row.public_id,
        valid_from=row.valid.lower,
        valid_before=row.valid.upper,
        changed_by_club=row.own,
    )
