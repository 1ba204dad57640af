"""Looking for drills: filters, words, and what runs tonight. Oracle of the last: Fit, asked at random."""

import random
from collections.abc import Iterator

import pytest

from club.ages import Ages
from club.errors import FieldProblem
from drills import actions, pages, queries
from drills.bridge import document_of
from drills.game.evening import Evening, one_year, players_of, typed_ground
from drills.game.fit import fit
from drills.game.fits import Fits, fits
from drills.game.playable import design_of
from drills.models import Drill
from drills.queries import DrillSearch
from tests.drills.people import People, acting, make
from tests.drills.samples import SMALL, WHOLE

pytestmark = pytest.mark.django_db


def titles(people: People, **wanted: object) -> list[str]:
    """As the library's search finds them; its page, which stops as soon as it has enough, has to find the same."""
    actor, asked = acting(people.director), DrillSearch(**wanted)  # type: ignore[arg-type]
    found = list(queries.search(actor, asked))
    listed = queries.hits_and_facets(actor, asked)[0][:]
    assert [(each.pk, each.runs_key) for each in listed] == [(each.pk, each.runs_key) for each in found]
    return [each.title for each in found]


def wrong(params: dict[str, str]) -> Iterator[tuple[str, str]]:
    for each in queries.parse_search(params)[1]:
        yield each.field, each.text


@pytest.fixture
def shelf(people: People) -> People:
    rondo = {**SMALL, "work": {"minutes": 8, "effort": 3}, "under_from": 8, "under_to": 10}
    for document in (
        WHOLE,
        rondo,
        {**SMALL, "title": "The Éclair", "activity": "match", "format": "GK+3v3+GK"},
    ):
        actions.create_drill(actor=acting(people.coach), document=document)
    return people


def test_lists_sort_without_articles_and_accents(shelf: People) -> None:
    assert titles(shelf) == ["The Éclair", "Lantern Gates", "Lantern Square"]


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ({"activity": "rondo"}, ["Lantern Square"]),
        ({"theme": "keep-the-ball"}, ["Lantern Gates"]),
        ({"minutes": 10}, ["Lantern Square"]),
        ({"effort_max": 3.5}, ["Lantern Square"]),
        ({"effort_max": 4}, ["Lantern Gates", "Lantern Square"]),  # the easier rung counts
        ({"ages": players_of(Ages(8, years=2))}, ["The Éclair", "Lantern Square"]),
        ({"ages": players_of(Ages(None, over=11))}, ["The Éclair", "Lantern Gates"]),
        ({"state": "club standard"}, []),
        ({"retired": True}, []),
        ({"q": "eclair"}, ["The Éclair"]),
        ({"q": "hunt", "activity": "rondo"}, ["Lantern Square"]),  # the beginning of a word of the purpose
        ({"q": "Lantren"}, ["Lantern Gates", "Lantern Square"]),  # a slip of the pen
        ({"q": "lantern ridno"}, []),  # two slips in one short word are another word
        ({"q": "rodno ball"}, ["Lantern Square"]),  # a slip beside a word that is right
        ({"kit": (("mini goals", 1),)}, ["The Éclair", "Lantern Square"]),
        (
            {"kit": (("mini goals", 2),), "players": 12, "length": 40.0, "width": 30.0},
            ["The Éclair", "Lantern Gates", "Lantern Square"],
        ),
        ({"q": "zzzz"}, []),
        ({"q": "'); drop table --"}, []),
        ({"players": 2, "length": 60, "width": 40}, []),
    ],
)
def test_filters(shelf: People, wanted: dict, found: list[str]) -> None:
    assert titles(shelf, **wanted) == found


def test_the_rung_that_runs_is_named(shelf: People) -> None:
    row = queries.search(acting(shelf.director), DrillSearch(activity="possession", effort_max=4)).get()
    assert row.runs_key == "wide"


def test_a_wrong_filter_is_said_in_a_coachs_words_and_counts_as_not_given() -> None:
    params = {"players": "many", "length": "0", "effort_max": "11", "activity": "jogging", "width": "nan"}
    found, problems = queries.parse_search(params, [])
    assert found == DrillSearch()
    assert {each.field for each in problems} == set(params)
    assert FieldProblem("players", "“many” is not a number.") in problems


@pytest.mark.parametrize(
    "params", [{"players": "500"}, {"players": "0"}, {"players": "-3"}, {"keepers": "9"}]
)
def test_impossible_numbers(params: dict[str, str]) -> None:
    assert [field for field, _ in wrong(params)] == list(params)


@pytest.mark.parametrize(
    ("typed", "kit"),
    [
        ("4 mini goals", (("mini goals", 4),)),
        (" 1 Mini Goal, 12 marker cones,", (("marker cones", 12), ("mini goals", 1))),
        ("four goals", None),
        ("8 bibs", None),  # they follow from the numbers
        ("3", None),
    ],
)
def test_kit_is_written_as_a_coach_would(typed: str, kit: tuple | None) -> None:
    found, problems = queries.parse_search({"kit": typed}, [])
    assert (found.kit, [each.field for each in problems]) == ((kit, []) if kit else ((), ["kit"]))


def test_more_keepers_than_players() -> None:
    assert [field for field, _ in wrong({"players": "2", "keepers": "3"})] == ["keepers"]


def test_an_age_group_is_named_by_its_label_or_its_id(people: People) -> None:
    assert queries.parse_search({"age_group": "U12"})[0].ages == one_year(12, 9)
    assert [field for field, _ in wrong({"age_group": "U99"})] == ["age_group"]


def test_drafts_are_their_owners_and_the_directors(people: People, draft: Drill, shared: Drill) -> None:
    seen = {
        name: {each.title for each in queries.search(acting(getattr(people, name)), DrillSearch())}
        for name in ("director", "coach", "other", "helper", "reader", "stranger")
    }
    everyone = {"Shared Gates"}
    both = everyone | {"Secret Draft"}
    assert seen == {
        "director": both, "coach": both, "other": everyone, "helper": everyone, "reader": everyone, "stranger": set(),
    }  # fmt: skip


@pytest.mark.sweep
def test_the_database_says_runnable_exactly_where_fit_has_an_answer(people: People) -> None:
    made = [
        make(people.coach, title="a"),
        make(people.coach, title="b", format="3v3", groups=[], conditions=[], phases=[], variations=[]),
        actions.create_drill(actor=acting(people.coach), document={**SMALL, "title": "c"}),
        actions.create_drill(
            actor=acting(people.coach),
            document={
                **SMALL,
                "title": "d",
                "activity": "match",
                "format": "GK+4v4+GK",
                "grids": WHOLE["grids"],
            },
        ),
    ]
    documents = {each.title: document_of(each.current_revision) for each in made}  # type: ignore[arg-type]
    dice, outcomes = random.Random(4), []
    for _ in range(50):  # × 4 drills = 200
        players, keepers = dice.randint(1, 30), dice.choice([None, None, 0, 1, 2, 3])
        length, width = dice.randint(5, 60), dice.randint(5, 45)
        if keepers is not None and keepers > players:
            continue
        runs = set(titles(people, players=players, keepers=keepers, length=length, width=width))
        for title, document in documents.items():
            designs = [design_of(document, key) for key in ("", *(each.key for each in document.variations))]
            asked = {"players": players, "keepers": keepers, "length_m": length, "width_m": width}
            answers = any(fit(design, **asked) for design in designs)  # type: ignore[arg-type]
            outcomes.append(answers)
            assert (title in runs) == answers, (title, asked)
    assert {True, False} == set(outcomes)


def test_sessions_pin_a_revision_and_hear_of_changes(
    people: People, shared: Drill, django_assert_num_queries
) -> None:
    helper, coach = acting(people.helper), acting(people.coach)
    pinned = queries.revision_for(shared.public_id, helper)
    assert pinned == shared.current_revision_id
    actions.revise_drill(
        actor=coach, public_id=shared.public_id, version=2, document={**WHOLE, "title": "Newer"}
    )
    with django_assert_num_queries(1):
        found = queries.documents([pinned])
    station = found[pinned]
    assert (station.title, station.revision_number, station.changed_since) == ("Shared Gates", 1, True)
    assert station.document.title == "Shared Gates"


def test_nobody_pins_a_draft_of_somebody_else_or_a_retired_drill(
    people: People, draft: Drill, shared: Drill
) -> None:
    assert queries.revision_for(draft.public_id, acting(people.other)) is None
    actions.retire_drill(actor=acting(people.coach), public_id=shared.public_id)
    assert queries.revision_for(shared.public_id, acting(people.other)) is None


def test_pickable_is_one_query(people: People, shared: Drill, django_assert_num_queries) -> None:
    actor = acting(people.helper)
    with django_assert_num_queries(1):
        picks = queries.pickable(actor, DrillSearch(players=12, length=40, width=30))
    assert [(each.title, each.revision_id) for each in picks] == [
        ("Shared Gates", shared.current_revision_id)
    ]


SIDES = ["reds: 5 inside", "blues: 5 inside"]
HELPING = "inside, floater, plays for whoever has the ball"


def test_revisions_say_what_changed(people: People, draft: Drill) -> None:
    reds, blues, yellows = WHOLE["groups"]
    actions.revise_drill(
        actor=acting(people.coach),
        public_id=draft.public_id,
        version=1,
        document={**WHOLE, "format": "5v5+3in", "groups": [reds, blues, {**yellows, "least": 3}]},
        note="n",
    )
    latest, first = pages.revision_rows(draft)
    assert [(each.field, each.before, each.after) for each in latest.changes] == [
        ("title", ["Secret Draft"], ["Lantern Gates"]),
        ("format", ["5v5+2in"], ["5v5+3in"]),
        ("groups", *([*SIDES, f"yellows: {n} {HELPING}"] for n in (2, 3))),
    ]
    assert (first.number, first.changes) == (1, [])


def test_fit_on_the_page_explains_itself(people: People, draft: Drill) -> None:
    found = queries.document_for(acting(people.coach), draft.public_id)
    shown = pages.fit_shown(found.document, "", Evening(15, pieces=typed_ground(30, 20)))
    assert shown.chosen is not None
    assert shown.chosen.title == "6v6+3in on 30 × 20 m, one grid"
    unlike = [shown.chosen, *shown.others]
    assert len({row.kind for row in unlike}) == len(unlike)
    assert shown.assumed == "Nobody said how many adults or how much kit: as much as it takes."
    assert shown.summary == "15 players on 30 × 20 m"
    strip = pages.fit_shown(found.document, "", Evening(15, adults=1, pieces=typed_ground(None, 20)))
    assert strip.summary == "15 players, 20 m one way, as much as it takes the other"
    assert strip.assumed == "Nobody said how much kit: as much as it takes."
    none = pages.fit_shown(found.document, "", Evening(3, pieces=typed_ground(30, 20)))
    assert none.chosen is None
    assert [text.partition(":")[0] for text in none.refusals] == ["Too few"]


def test_fit_and_the_list_look_at_the_clubs_stock(shared: Drill, people: People, visitor) -> None:
    """Bibs for all groups but the largest, common practice: 4v4+4 needs 8; four mini goals are two too many here."""
    from club import actions as club_actions
    from drills import pages, queries

    document = queries.document_for(acting(people.coach), shared.public_id).document

    def answer() -> Fits:
        asked, _ = pages.evening_asked({"players": "12", "length": "40", "width": "30"})
        assert asked is not None
        return fits(document, "", asked)

    assert answer()[0].kit["mini goals"] == 2
    assert queries.club_stock() == {}
    club_actions.set_kit(kind="mini goals", count=1)
    assert queries.club_stock() == {"mini goals": 1}
    refused = answer()
    assert not refused
    assert "mini goals (1 more)" in refused.refusals[0].text
    html = visitor(people.coach).get("/library/?players=12&length=40&width=30").content.decode()
    assert "short of 1 mini goal" in html
    club_actions.set_kit(kind="mini goals", count=2)
    assert answer()
    html = visitor(people.coach).get("/library/?players=12&length=40&width=30").content.decode()
    assert "short of" not in html


def test_enough_adults_are_there_where_nobody_says_how_many(people: People) -> None:
    from drills.pages.library import evening_wanted
    from tests.drills.samples import whole

    two = whole(adults=2)
    wanted = DrillSearch(players=12, length=40, width=30)
    assert fits(two, "", evening_wanted(wanted, {}, as_written=12))
    assert fits(two, "", Evening(12))
    alone = fits(two, "", Evening(12, adults=1))[0]  # with a parent who stays, nobody is left without a game
    assert "ask_parent" in [reason.key for reason in alone.reasons]
