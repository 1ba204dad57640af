"""Ages: the one place where "under n" becomes years, and years become "under n".

An age group is *under n* at midnight on its association's reference date: the children of an under-12 group of one year group are
11 on that date and turn 12 in the season (The FA, age groups: 31 August, read second-hand; other associations have other dates).
So the age that is certain on any day of the season is the lower one.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

LEAST_UNDER = 4  # the youngest group that a club has (common practice, no source)
OLDEST = 99  # stands for "and older" where a row needs a number
YOUNGEST_BY_LOAD = 11  # up to U10 minutes and days speak alone, not AU (a judgement of ours)
ADULT_FROM = 18  # youngest age of an open-ended group where it doesn't say


def gettext_noop(text: str) -> str:
    """Mark a wording for the catalogue of texts."""
    return text


AND_OVER, UP_TO, AND_OLDER = (
    gettext_noop("{years} and over"),
    gettext_noop("up to U{high}"),
    gettext_noop("U{low} and older"),
)


def under_of(years: int) -> int:
    """The "under n" that somebody of this age, in whole years on the reference date, plays in: 11 → 12."""
    return years + 1


def years_of(under: int) -> int:
    """The age in whole years on the reference date of who plays in "under n" and in no younger group: 12 → 11."""
    return under - 1


@dataclass(frozen=True, slots=True)
class Ages:
    """Which year groups an age group holds.

    `under` is the n of *under n*, None for adults; `years` how many year groups are in it (1: U12 alone, 2: U11 and U12);
    `over` the youngest age of adults, in years. Raises ValueError naming the field.
    """

    under: int | None
    years: int = 1
    over: int | None = None

    def __post_init__(self) -> None:
        if self.years < 1:
            raise ValueError(f"years: at least 1, not {self.years}")
        if self.under is None and self.years != 1:
            raise ValueError("years: an open-ended group has no number of year groups")
        if self.under is not None and self.over is not None:
            raise ValueError("over: only an open-ended group has one")
        if self.under is not None and self.years > self.under:
            raise ValueError(f"years: under {self.under} holds no {self.years} year groups")

    @property
    def under_low(self) -> int:
        """The n of its youngest year group."""
        if self.under is None:
            return under_of(ADULT_FROM if self.over is None else self.over)
        return self.under - self.years + 1

    @property
    def by_load(self) -> bool:
        """Whether their load may be said in AU."""
        return self.under is None or self.under >= YOUNGEST_BY_LOAD

    @property
    def under_high(self) -> int | None:
        """The n of its oldest year group; None for adults."""
        return self.under

    @property
    def unders(self) -> tuple[int, int | None]:
        """The n of its youngest and of its oldest year group (None: and older)."""
        return self.under_low, self.under_high

    @property
    def youngest_years(self) -> int:
        """The age in years that is certain on any day of the season."""
        return years_of(self.under_low)

    @property
    def supervised_years(self) -> int | None:
        """The age in years that supervision goes by; None for adults, who look after themselves."""
        is_adult = self.under is None and self.youngest_years >= ADULT_FROM
        return None if is_adult else self.youngest_years

    @property
    def words(self) -> str:
        """`U12`, `U11–U12`, `18 and over`."""
        return self.said(str)

    def said(self, translate: Callable[[str], str]) -> str:
        """Its words in the reader's language."""
        if self.under is None:
            return translate(AND_OVER).format(years=self.youngest_years)
        return under_words(self.under_low, self.under, translate)


def year_groups(low: int, high: int) -> range:
    """The "under n" from one year group to another, both among them."""
    return range(low, high + 1)


def under_words(low: int | None, high: int | None, translate: Callable[[str], str] = str) -> str:
    """`U12`, `U9–U12`, `U13 and older`, `up to U9`, in the reader's language; empty where neither is said."""
    if low is None:
        return "" if high is None else translate(UP_TO).format(high=high)
    if high is None or high >= OLDEST:
        return translate(AND_OLDER).format(low=low)
    return f"U{low}" if low == high else f"U{low}–U{high}"
