"""A director's own match pitch bounds grids wherever Fit is asked, and what the database says runs follows once it is rebuilt."""

import random
from datetime import date, timedelta

import pytest
import time_machine
from django.db.backends.postgresql.psycopg_any import DateRange
from django.urls import reverse

from club.actions.guidelines import add_guideline, change_guideline, load_guidelines, renew_match_areas
from club.ages import Ages
from club.choices import Rule
from club.models import Guideline
from club.queries import match_areas, today
from drills import queries
from drills.actions import rederive_all
from drills.actions.derive import TASK
from drills.bridge import document_of
from drills.game.evening import players_of
from drills.game.fit.rules import rules_for, side_of
from drills.game.fits import fits, holds
from drills.game.pitches import MATCH_PITCHES, areas_of_our_own, match_area_per_player_m2
from drills.game.playable import design_of
from drills.models import Drill
from drills.queries.search import DrillSearch, rooms_for
from drills.tasks import rederive_outdated
from tests.drills.samples import SMALL, small
from tests.drills.test_outdated import taken, waiting
from tests.drills.test_rooms_for import DOCUMENTS, answers, evening_for, with_revision
from tests.people import World, signed_in

pytestmark = pytest.mark.django_db

OURS = "Our own league, 2026"
ROOM = {
    3: (24.0, 20.0),
    5: (30.0, 20.0),
    7: (40.0, 30.0),
    9: (70.0, 60.0),
}  # wider for threes and nines, else tighter


def own_pitch(
    a_side: int, length_m: float, width_m: float, *, since: date = date(2020, 1, 1)
) -> list[Guideline]:
    sizes = ((Rule.MATCH_LENGTH_M, length_m), (Rule.MATCH_WIDTH_M, width_m))
    return [
        add_guideline(
            rule=rule,
            under_low=4,
            under_high=99,
            a_side=a_side,
            jurisdiction="Club",
            value=value,
            source=OURS,
            valid=DateRange(since, None),
        )
        for rule, value in sizes
    ]


def test_the_rows_that_are_delivered_are_the_published_table(world: World) -> None:
    """FA handbook 2016-17 and formats from 2026-27: rows in metres, the table in yards, to one in a thousand."""
    load_guidelines()
    assert set(match_areas()) == {each.a_side for each in MATCH_PITCHES}
    for a_side, area in match_areas().items():
        assert area == pytest.approx(match_area_per_player_m2(a_side), rel=1e-3)
    assert areas_of_our_own(match_areas()) == queries.our_match_areas() == {}
    assert waiting() == []


def test_an_own_row_comes_before_a_published_one_and_the_least_of_its_ages_counts(world: World) -> None:
    load_guidelines()
    own_pitch(3, 24, 20)  # the published most is 20 × 15 m
    assert queries.our_match_areas() == {3: 80.0}
    length, _width = own_pitch(7, 40, 30)
    assert queries.our_match_areas() == {3: 80.0, 7: round(1200 / 14, 2)}
    change_guideline(guideline=length, version=length.version, value=50, source="The league, later")
    assert queries.our_match_areas()[7] == round(1500 / 14, 2)
    for rule, value in (
        (Rule.MATCH_LENGTH_M, 70),
        (Rule.MATCH_WIDTH_M, 40),
    ):  # of U13 and U14, who play eleven a side
        add_guideline(
            rule=rule,
            under_low=13,
            under_high=14,
            a_side=11,
            jurisdiction="Club",
            value=value,
            source=OURS,
            valid=DateRange(date(2020, 1, 1), None),
        )
    assert queries.our_match_areas()[11] == round(2800 / 22, 2)


def test_every_door_is_told_of_the_pitch_in_force(world: World) -> None:
    from sessions.proposals.queries.tonight import wish_for
    from sessions.queries import session_by_id
    from sessions.queries.evening import evening_of
    from sessions.queries.reuse import own_target
    from tests.factories_sessions import part_input, planned_session

    load_guidelines()
    side = side_of(world.own.age_group.a_side)
    assert side == 9
    made = planned_session(
        place=world.own, by=world.people.coach, staff=[world.people.coach], parts=[part_input()]
    )
    own_pitch(9, 60, 30)
    session = session_by_id(made.public_id)
    searched, problems = queries.parse_search({"age_group": str(world.own.age_group.public_id)})
    assert not problems
    told = {
        "session": evening_of(session).ages,
        "used again": own_target(session).evening.ages,
        "proposal": wish_for(session).ages,
        "search": searched.ages,
    }
    assert {name: each.match_m2_each if each else None for name, each in told.items()} == dict.fromkeys(
        told, 100.0
    )


def test_a_grid_larger_than_our_own_match_is_no_answer_and_a_kept_one_is_stale() -> None:
    document = small(
        activity="match", format="4v4", grids=[{**SMALL["grids"][0], "length_m": 30, "width_m": 20}]
    )
    published = DrillSearch(players=8, ages=players_of(Ages(9), 5), adults=2)
    evening = evening_for(published)
    answer = fits(document, "", evening)
    assert answer
    ours = evening_for(DrillSearch(players=8, ages=players_of(Ages(9), 5, 20.0), adults=2))
    assert rules_for(design_of(document), ours).area_most_m2 == 20.0
    for each in fits(document, "", ours):
        for (length_m, width_m), numbers in zip(each.grid_sizes, each.grid_formats, strict=True):
            assert length_m * width_m <= 20.0 * numbers.players
    assert "grid_over_match" in {each.key for each in holds(document, "", answer[0], ours).reasons}


def of_own_formats(count: int, seed: str) -> list[DrillSearch]:
    dice = random.Random(seed)
    found = []
    for _ in range(count):
        players, under = dice.randint(4, 24), dice.randint(6, 16)
        group = Group(Ages(under, years=dice.choice([1, 2])), dice.choice([3, 3, 5, 6, 7, 9, 11]))
        found.append(
            DrillSearch(
                players=players,
                keepers=dice.choice([None, 0, 1, 2]),
                length=dice.randint(8, 60),
                width=dice.randint(8, 45),
                ages=queries.players_of_group(group),
                adults=dice.choice([None, 1, 2, 4]),
            )
        )
    return found


class Group:
    def __init__(self, ages: Ages, a_side: int) -> None:
        self.ages, self.a_side = ages, a_side


def said(tonights: list[DrillSearch], kept: list[Drill]) -> list[tuple[bool, bool]]:
    """What the database says and what Fit answers, of 7 drills in turn."""
    found = []
    for number, tonight in enumerate(tonights):
        drill = kept[number % len(kept)]
        rung = next(iter(drill.variations.all()))
        runs = rooms_for(tonight).filter(footprint=rung.footprint_id).exists()
        found.append((runs, answers(document_of(drill.current_revision), rung.key, tonight)))
    return found


@pytest.mark.sweep
def test_what_runs_by_the_database_follows_a_clubs_own_pitches_once_it_is_rebuilt(world: World) -> None:
    """Changing a row asks for the job; until it is done the old rows answer, after it they say exactly what Fit does."""
    load_guidelines()
    kept = [with_revision(document) for document in DOCUMENTS]
    assert waiting() == []
    for a_side, metres in ROOM.items():
        own_pitch(a_side, *metres)
    tonights = of_own_formats(280, "own pitches")
    assert any(runs != answered for runs, answered in said(tonights, kept))
    assert queries.count_outdated_drills() == len(kept)
    assert rederive_outdated() == len(kept)
    assert queries.count_outdated_drills() == 0
    kept = list(Drill.objects.select_related("current_revision").order_by("pk"))
    after = said(tonights, kept)
    assert [runs for runs, _ in after] == [answered for _, answered in after]
    assert 20 <= sum(runs for runs, _ in after) <= 260


@pytest.mark.django_db(transaction=True)
def test_a_saved_row_asks_for_the_job_once() -> None:
    from tests.factories import ClubSettingsFactory

    ClubSettingsFactory()
    load_guidelines()
    with_revision(small())
    taken()
    own_pitch(7, 40, 30)
    assert len(waiting()) == 1, TASK


def test_a_row_that_comes_into_force_is_noticed_by_the_hourly_job(world: World) -> None:
    load_guidelines()
    with_revision(small())
    own_pitch(7, 40, 30, since=today() + timedelta(days=3))
    assert queries.our_match_areas() == {}
    assert not renew_match_areas()
    with time_machine.travel(today() + timedelta(days=4)):
        assert rederive_outdated(timestamp=1) == 1
        assert queries.our_match_areas() == {7: round(1200 / 14, 2)}
    assert rederive_all() == 1


def test_the_director_is_told_what_a_pitch_changes(world: World) -> None:
    typed = {
        "rule": Rule.MATCH_LENGTH_M,
        "under_low": "4",
        "under_high": "99",
        "a_side": "7",
        "jurisdiction": "Club",
        "value": "50",
        "source": OURS,
        "first_day": "2026-01-01",
    }
    page = signed_in(world.people.director).post(reverse("club:guideline-add"), typed, follow=True)
    assert "Grids keep to it at once" in page.content.decode()


def test_a_room_of_nothing_is_no_room() -> None:
    for wrong in (0.0, -1.0, float("inf")):
        with pytest.raises(ValueError, match="match_m2_each"):
            players_of(Ages(9), 5, wrong)
