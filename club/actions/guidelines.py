"""Published figures as rows, each with its source and the time it holds. Advice, deferring to local rules."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.backends.postgresql.psycopg_any import DateRange
from django.utils.translation import gettext as _

from club.actions.conflicts import action
from club.actions.saving import change, save_checked
from club.ages import LEAST_UNDER, OLDEST, under_of
from club.choices import Rule
from club.errors import Refused
from club.models import ClubSettings, Guideline
from club.queries.figures import match_areas_on
from club.queries.settings import forget_settings, today

FA = "England"
FA_HEADING = "The FA, heading guidance for training in youth football, 2020"
FA_HEADING_ADULTS = "The FA, heading guidance for the adult amateur game, 2021"
FA_PLAYING = "The FA, handbook: maximum playing times for youth football"
FA_FORMATS = "The FA, handbook 2016-17: pitch and goal sizes"
FA_FORMATS_2026 = "The FA, youth formats from season 2026-27"
FA_BALLS = "The FA, ball sizes from June 2020"
NATA = "National Athletic Trainers' Association, statement on sport specialisation, 2019"
CPSU = "NSPCC Child Protection in Sport Unit, supervision ratios"
BY_FORMAT = "Published in yards for the format; check what your league plays"
NEW_FORMATS = date(2026, 7, 1)
EVER = DateRange(date(2000, 1, 1), None)
BEFORE_2026 = DateRange(date(2000, 1, 1), NEW_FORMATS)
FROM_2026 = DateRange(NEW_FORMATS, None)


@dataclass(frozen=True)
class Figure:
    """One published figure for the ages from under `under_low` to under `under_high`; of a pitch for so many a side."""

    rule: Rule
    under_low: int
    under_high: int
    value: float
    source: str
    valid: DateRange = EVER
    note: str = ""
    jurisdiction: str = FA
    a_side: int | None = None
    own: bool = False


def _spread(rule: Rule, source: str, rows: tuple[tuple[int, int, float], ...], **more: Any) -> list[Figure]:
    return [Figure(rule, low, high, value, source, **more) for low, high, value in rows]


def _of_years(
    rule: Rule, source: str, rows: tuple[tuple[int, int, float], ...], *, note: str = "", **more: Any
) -> list[Figure]:
    """Figures published by age in years: whoever is so old plays under one more."""
    return [
        Figure(
            rule,
            under_of(youngest),
            under_of(oldest),
            value,
            source,
            note=_published_by_age(youngest, oldest, note),
            **more,
        )
        for youngest, oldest, value in rows
    ]


def _published_by_age(youngest: int, oldest: int, note: str) -> str:
    ages = f"{youngest}" if youngest == oldest else f"{youngest} to {oldest}"
    return ". ".join(filter(None, (note, f"Published for age {ages} in years")))


def _pitch(
    a_side: int,
    length: float,
    width: float,
    source: str,
    *,
    unders: tuple[int, int] = (LEAST_UNDER, OLDEST),
    most: bool = False,
    **more: Any,
) -> list[Figure]:
    """Length and width of a match pitch, metres, for so many a side: its size, or the most it may be."""
    rules = (
        (Rule.MATCH_LENGTH_MOST_M, Rule.MATCH_WIDTH_MOST_M)
        if most
        else (Rule.MATCH_LENGTH_M, Rule.MATCH_WIDTH_M)
    )
    sizes = zip(rules, (length, width), strict=True)
    return [Figure(rule, *unders, value, source, a_side=a_side, **more) for rule, value in sizes]


FIGURES: tuple[Figure, ...] = (
    *_spread(
        Rule.HEADERS_PER_SESSION,
        FA_HEADING,
        ((4, 11, 0), (12, 13, 5), (14, 18, 10)),
    ),
    Figure(Rule.HEADERS_PER_SESSION, 19, OLDEST, 10, FA_HEADING_ADULTS),
    *_spread(Rule.HEADING_SESSIONS_MONTH, FA_HEADING, ((4, 11, 0), (12, 12, 1))),
    *_spread(Rule.HEADING_SESSIONS_WEEK, FA_HEADING, ((13, 18, 1),)),
    *_spread(Rule.HEADING_SESSIONS_WEEK, FA_HEADING_ADULTS, ((19, OLDEST, 1),)),
    *_spread(
        Rule.PLAYING_MINUTES_HALF,
        FA_PLAYING,
        ((7, 8, 20), (9, 10, 25), (11, 12, 30), (13, 14, 35), (15, 16, 40), (17, 18, 45)),
    ),
    *_spread(
        Rule.PLAYING_MINUTES_DAY,
        FA_PLAYING,
        ((7, 8, 40), (9, 10, 60), (11, 12, 80), (13, 14, 100), (15, 16, 100), (17, 18, 120)),
    ),
    *_spread(
        Rule.PLAYING_MINUTES_TOURNAMENT,
        FA_PLAYING,
        ((7, 8, 60), (9, 10, 90), (11, 12, 120), (13, 14, 150), (15, 16, 150), (17, 18, 180)),
    ),
    *_spread(
        Rule.PLAYERS_A_SIDE,
        FA_FORMATS,
        ((7, 8, 5), (9, 10, 7), (11, 12, 9), (13, OLDEST, 11)),
        valid=BEFORE_2026,
    ),
    *_spread(
        Rule.PLAYERS_A_SIDE,
        FA_FORMATS_2026,
        ((7, 7, 3), (8, 9, 5), (10, 11, 7), (12, 13, 9), (14, OLDEST, 11)),
        valid=FROM_2026,
    ),
    *_pitch(3, 15, 10, FA_FORMATS_2026, valid=FROM_2026),
    *_pitch(3, 20, 15, FA_FORMATS_2026, most=True, valid=FROM_2026),
    *_pitch(5, 36.58, 27.43, FA_FORMATS, note=BY_FORMAT),
    *_pitch(7, 54.86, 36.58, FA_FORMATS, note=BY_FORMAT),
    *_pitch(9, 73.15, 45.72, FA_FORMATS, note=BY_FORMAT),
    *_pitch(11, 82.30, 50.29, FA_FORMATS, unders=(13, 14), note=BY_FORMAT),
    *_pitch(11, 91.44, 54.86, FA_FORMATS, unders=(15, 16), note=BY_FORMAT),
    *_pitch(11, 100.58, 64.01, FA_FORMATS, unders=(17, OLDEST), note=BY_FORMAT),
    *_spread(Rule.BALL_SIZE, FA_BALLS, ((6, 10, 3), (11, 14, 4), (15, OLDEST, 5))),
    *_of_years(
        Rule.REST_DAYS_WEEK, NATA, ((3, 18, 2),), note="At least; read second-hand", jurisdiction="general"
    ),
    *_of_years(
        Rule.ORGANISED_HOURS_WEEK,
        NATA,
        tuple((age, age, age) for age in range(3, 19)),
        note="Not above the age",
        jurisdiction="general",
    ),
    *_of_years(
        Rule.CHILDREN_PER_ADULT, CPSU, ((4, 8, 6), (9, 12, 8), (13, 18, 10)), jurisdiction="United Kingdom"
    ),
    *_of_years(
        Rule.CHILDREN_PER_ADULT,
        CPSU,
        ((3, 3, 4),),
        note="Value from memory, not verified",
        jurisdiction="United Kingdom",
    ),
    *_of_years(Rule.LEAST_ADULTS, CPSU, ((3, 18, 2),), jurisdiction="United Kingdom"),
)


@action
def load_guidelines() -> int:
    """Put the published figures in; rows that the club changed stay as they are. Returns how many were new."""
    kept = {
        (row.rule, row.a_side, row.under_low, row.under_high, row.jurisdiction, row.valid.lower)
        for row in Guideline.objects.all()
    }
    new = [
        Guideline(
            rule=each.rule,
            under_low=each.under_low,
            under_high=each.under_high,
            a_side=each.a_side,
            jurisdiction=each.jurisdiction,
            value=Decimal(str(each.value)),
            source=each.source,
            note=each.note,
            valid=each.valid,
        )
        for each in FIGURES
        if (
            each.rule,
            each.a_side,
            each.under_low,
            each.under_high,
            each.jurisdiction,
            each.valid.lower,
        )
        not in kept
    ]
    Guideline.objects.bulk_create(new)
    _saved()
    return len(new)


@action
def change_guideline(*, guideline: Guideline, version: int, **values: Any) -> Guideline:
    """The club's own figure in place of the published one; another figure needs another source."""
    moved = values.get("value", guideline.value) != guideline.value
    if moved and values.get("source", guideline.source) == guideline.source and not guideline.own:
        raise Refused(
            _("Say where the new figure comes from: your league, your association, the club."), "source"
        )
    _refuse_second(values.get("valid", guideline.valid), guideline)
    saved = change(guideline, version, {**values, "own": True})
    _saved()
    return saved


@action
def add_guideline(**values: Any) -> Guideline:
    """A figure of the club's own, or of its league."""
    row = Guideline(own=True, **values)
    _refuse_second(row.valid, row)
    saved = save_checked(row)
    _saved()
    return saved


# Told when the rows in force say another match pitch than before: whoever keeps what was worked out from the old one.
_told: list[Callable[[], object]] = []


def when_pitches_change(tell: Callable[[], object]) -> None:
    """Tell this one from now on, once the change is saved."""
    if tell not in _told:
        _told.append(tell)


@action
def renew_match_areas() -> bool:
    """Work the match areas out of the rows in force today; tell whether any is another than before."""
    forget_settings()
    found = {str(a_side): area for a_side, area in match_areas_on(today()).items()}
    changed = ClubSettings.objects.exclude(match_areas=found).update(match_areas=found)
    forget_settings()
    if changed:
        for tell in _told:
            transaction.on_commit(tell)
    return bool(changed)


def _saved() -> None:
    """After rows were saved: the next question reads them."""
    renew_match_areas()


def _refuse_second(valid: DateRange, row: Guideline) -> None:
    """One rule says one figure for an age at a time, in one place."""
    others = Guideline.objects.filter(
        rule=row.rule,
        jurisdiction=row.jurisdiction,
        a_side=row.a_side,
        under_low__lte=row.under_high,
        under_high__gte=row.under_low,
        valid__overlap=valid,
    ).exclude(pk=row.pk)
    other = others.first()
    if other:
        words = _("There is a figure for %(ages)s at that time already: %(value)s. Change that one.")
        raise Refused(words % {"ages": other.ages_words, "value": other.value})
