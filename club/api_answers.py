"""Rows of the club as the shapes that its endpoints answer with."""

from decimal import Decimal
from typing import Any

from club import api_shapes as shapes


def age_group(row: Any) -> shapes.AgeGroupShape:
    return shapes.AgeGroupShape(
        id=row.public_id,
        label=row.label,
        season=row.season.name,
        under=row.under,
        years=row.years,
        over=row.over,
        under_low=row.ages.under_low,
        under_high=row.ages.under_high,
        youngest_years=row.ages.youngest_years,
        match_format=row.match_format,
        match_length_m=_number(row.match_length_m),
        match_width_m=_number(row.match_width_m),
        ball_size=row.ball_size,
        session_minutes=row.session_minutes,
        session_load_au=row.session_load_au,
        week_load_au=row.week_load_au,
        week_minutes=row.week_minutes,
        week_days=row.week_days,
        hardest_part=float(row.hardest_part),
        version=row.version,
    )


def squad(row: Any) -> shapes.SquadShape:
    return shapes.SquadShape(
        id=row.public_id,
        name=row.name,
        age_group=row.age_group_label,
        player_count=row.player_count,
        version=row.version,
    )


def player(row: Any) -> shapes.PlayerShape:
    return shapes.PlayerShape(
        id=row.public_id,
        display_name=row.display_name,
        shirt=row.shirt,
        is_keeper=row.is_keeper,
        out_until_lifted=row.is_out,
        version=row.version,
    )


def out_until_lifted(row: Any) -> shapes.PlayerOutShape:
    """From the row that says so; None for a player who is not out."""
    return shapes.PlayerOutShape(
        out_until_lifted=row is not None,
        since=row.since if row else None,
        set_by=row.set_by.name if row and row.set_by else None,
    )


def pitch(row: Any) -> shapes.PitchShape:
    return shapes.PitchShape(
        id=row.public_id,
        name=row.name,
        surface=row.surface,
        has_lights=row.has_lights,
        address=row.address,
        ambulance_gate=row.ambulance_gate,
        defibrillator=row.defibrillator,
        zones=[_zone(each) for each in row.zones.all()],
        version=row.version,
    )


def _zone(row: Any) -> shapes.PitchZoneShape:
    return shapes.PitchZoneShape(
        id=row.public_id,
        name=row.name,
        length_m=float(row.length_m),
        width_m=float(row.width_m),
        edge_left=row.edge_left,
        edge_right=row.edge_right,
        edge_bottom=row.edge_bottom,
        edge_top=row.edge_top,
        fixed_goals=[
            shapes.FixedGoalShape(edge=each["edge"], along=each["along"], size=each["size"])
            for each in row.fixed_goals
        ],
        version=row.version,
    )


def kit(row: Any) -> shapes.KitShape:
    return shapes.KitShape(kind=row.kind, colour="", count=row.count)


def bibs(row: Any) -> shapes.KitShape:
    return shapes.KitShape(kind="bibs", colour=row.colour, count=row.count)


def theme(row: Any) -> shapes.ThemeShape:
    return shapes.ThemeShape(key=row.key, title=row.title, moment=row.moment)


def guideline(row: Any) -> shapes.GuidelineShape:
    return shapes.GuidelineShape(
        id=row.public_id,
        rule=row.rule,
        under_low=row.under_low,
        under_high=row.under_high,
        a_side=row.a_side,
        jurisdiction=row.jurisdiction,
        value=float(row.value),
        source=row.source,
        note=row.note,
        valid_from=row.valid.lower,
        valid_before=row.valid.upper,
        changed_by_club=row.own,
        version=row.version,
    )


def _number(value: Decimal | None) -> float | None:
    return None if value is None else float(value)
