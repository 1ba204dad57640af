"""Match minutes of a day against the figure in force: said in the week, with who says it and by how much it is over."""

from datetime import date, timedelta
from typing import Any

import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from club.actions.guidelines import load_guidelines
from club.choices import Rule
from club.queries import squad as club_squad
from club.queries import today
from sessions.actions import add_ledger_entry
from sessions.choices import Kind
from sessions.pages.squad_week import squad_week_page
from sessions.planning.volume import MatchPlayed, MinutesLimit, WeekLimits, match_minutes
from tests.drills.people import acting
from tests.people import World, signed_in
from tests.sessions.test_rows_in_force import OURS, own

LIMITS = WeekLimits(match_day=MinutesLimit(80, "They"), tournament_day=MinutesLimit(120, "They"))


def said(*played: MatchPlayed, limits: WeekLimits = LIMITS) -> list[str]:
    return [each.text for each in match_minutes(played, limits)]


def test_matches_of_a_day_are_added_up_and_a_tournament_has_a_figure_of_its_own() -> None:
    """U12: 80 min a day, 120 on a tournament day (The FA, handbook: maximum playing times for youth football)."""
    sat = MatchPlayed("Sat 7 Mar", 50), MatchPlayed("Sat 7 Mar", 40)
    assert said(*sat) == [
        "Sat 7 Mar: 90 match minutes for one player, 10 more than the 80 that are advised for a day (They)."
    ]
    assert said(MatchPlayed("Sat 7 Mar", 80), MatchPlayed("Sun 8 Mar", 80)) == []
    assert said(MatchPlayed("Sun 8 Mar", 120, tournament=True)) == []
    assert said(MatchPlayed("Sun 8 Mar", 60), MatchPlayed("Sun 8 Mar", 75.5, tournament=True)) == [
        "Sun 8 Mar: 135.5 match minutes for one player, 15.5 more than the 120 that are advised for a tournament day (They)."
    ]
    assert said(*sat, limits=WeekLimits()) == []
    only_a_day = WeekLimits(match_day=MinutesLimit(80, "They"))
    assert len(said(MatchPlayed("Sun 8 Mar", 90, tournament=True), limits=only_a_day)) == 1


@given(st.lists(st.tuples(st.integers(0, 6), st.integers(0, 90), st.booleans()), max_size=12))
def test_a_day_is_said_exactly_where_its_sum_is_over(games: list[tuple[int, int, bool]]) -> None:
    found = {
        dict(each.values)["day"]
        for each in match_minutes([MatchPlayed(str(d), m, t) for d, m, t in games], LIMITS)
    }
    for day in range(7):
        mine = [(minutes, tournament) for at, minutes, tournament in games if at == day]
        most = 120 if any(tournament for _, tournament in mine) else 80
        assert (str(day) in found) == (sum(minutes for minutes, _ in mine) > most)


@pytest.mark.django_db
def test_the_week_says_it_by_the_row_in_force(world: World) -> None:
    load_guidelines()
    squad, coach = club_squad(world.own.squad.public_id), world.people.coach
    monday = today() - timedelta(days=today().weekday())
    entered(squad, coach, monday + timedelta(days=5), Kind.MATCH, 60)
    page = squad_week_page(acting(coach), squad, monday)
    assert codes(page) == []
    entered(squad, coach, monday + timedelta(days=5), Kind.MATCH, 40)
    entered(squad, coach, monday + timedelta(days=6), Kind.TOURNAMENT, 110)
    (over,) = [
        each for each in squad_week_page(acting(coach), squad, monday).week.reasons if "match" in each.code
    ]
    assert dict(over.values) | {"day": ""} == {
        "day": "", "minutes": 100, "over": 20, "limit": 80, "source": "The FA, handbook: maximum playing times for youth football",
    }  # fmt: skip
    shown = signed_in(coach).get(reverse("sessions:squad", args=[squad.public_id])).content.decode()
    assert "100 match minutes for one player, 20 more than the 80" in shown
    own(Rule.PLAYING_MINUTES_TOURNAMENT, 90)
    again = squad_week_page(acting(coach), squad, monday)
    assert codes(again) == ["match_minutes_over", "match_minutes_over_tournament"]
    assert dict(again.week.reasons[-1].values)["source"] == OURS
    address = reverse("api-age-group-week", args=[world.own.age_group.public_id, f"{monday:%G-W%V}"])
    (answer,) = signed_in(coach).get(address).json()["squads"]
    texts = [each["text"] for each in answer["reasons"]]
    assert [each.text for each in again.week.reasons[-2:]] == texts[-2:]


def entered(squad: Any, coach: Any, day: date, kind: Kind, minutes: float) -> None:
    add_ledger_entry(
        squad_id=squad.pk, day=day, kind=kind, title="", minutes=minutes, effort=None, entered_by_id=coach.pk
    )


def codes(page: Any) -> list[str]:
    return [each.code for each in page.week.reasons if each.code.startswith("match_minutes")]
