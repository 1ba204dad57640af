"""What the database says runs tonight is exactly what Fit has an answer for; footprints are shared, rebuilt and swept."""

import random
from collections.abc import Iterator
from dataclasses import replace

import pytest
from django.db import connection, transaction

from club.ages import Ages
from drills.actions.derive import derive, rederive_all, rederive_drill, sweep_footprints
from drills.bridge import document_of, project
from drills.game.document import DrillDocument, digest
from drills.game.evening import Evening, players_of
from drills.game.fit.rules import rules_for
from drills.game.fit.search import SetUpSearch
from drills.game.fits import fits
from drills.game.playable import design_of
from drills.game.rooms import ENGINE_VERSION
from drills.models import Drill, DrillRevision, Footprint, RoomNeeded, Variation
from drills.pages.library import evening_wanted
from drills.queries.search import DrillSearch, rooms_for, rooms_for_all
from tests.drills.samples import SMALL, small, whole

GRID = SMALL["grids"][0]
ROOMY = {"type": "set_grid", "length_m": 30, "width_m": 24}
FIVE = {"kind": "range", "least": 5, "most": 5}

DOCUMENTS = [
    whole(),
    small(),
    small(title="Keepers", activity="match", format="GK+4v4+GK", grids=[{**GRID, "length_m": 32, "width_m": 24}]),
    small(title="One keeper", activity="match", format="GK+3v3+1in", numbers={"kind": "range", "least": 6, "most": 9}),
    small(
        title="Queue",
        activity="finishing",
        format="GK+3v2",
        grids=[{**GRID, "length_m": 30, "width_m": 20.5}],
        queue={"work_s": 15, "wait_s": 30, "next": "the next three come"},
    ),
    small(
        title="Everyone",
        activity="fun game",
        format="14",
        numbers={"kind": "anyone", "least": 5},
        grids=[{**GRID, "length_m": 22, "width_m": 18}],
        under_from=9,
        under_to=10,
    ),
    small(title="Helpers", activity="possession", format="3v3+2", adults=2, grids=[{**GRID, "length_m": 20}]),
]  # fmt: skip


def keep(document: DrillDocument) -> Drill:
    drill = Drill()
    project(drill, document)
    drill.save()
    derive(drill, document)
    return drill


def with_revision(document: DrillDocument) -> Drill:
    from drills.bridge import plain

    drill = keep(document)
    drill.current_revision = DrillRevision.objects.create(
        drill=drill,
        number=1,
        drill_version=1,
        document=plain(document),
        schema_version=document.schema_version,
        sha256=digest(document),
    )
    drill.save()
    return drill


def evenings(count: int, seed: str) -> Iterator[DrillSearch]:
    dice = random.Random(seed)
    for _ in range(count):
        players = dice.randint(1, 40)
        keepers = dice.choice([None, *(each for each in range(4) if each <= players)])
        length, width = dice.choice([dice.randint(5, 60), dice.uniform(5, 60)]), dice.randint(5, 45)
        yield DrillSearch(players=players, keepers=keepers, length=round(length, 1), width=width)


def of_any_age(count: int, seed: str) -> Iterator[DrillSearch]:
    """The same for groups of any age and format, with any number of adults; one in five says neither."""
    dice = random.Random(seed)
    for tonight in evenings(count, seed):
        under = dice.randint(6, 16)
        ages = players_of(Ages(under, years=dice.choice([1, 1, 2])), dice.choice([None, 3, 5, 7, 9, 11]))
        said = dice.random() > 0.2
        yield replace(
            tonight, ages=ages if said else None, adults=dice.choice([None, 1, 2, 4]) if said else None
        )


def evening_for(tonight: DrillSearch) -> Evening:
    """As a card of the library asks; the drill's own ages left out, which are a filter of their own."""
    return replace(evening_wanted(tonight, dict(tonight.kit), as_written=0), chosen=True)


def answers(document: DrillDocument, key: str, tonight: DrillSearch) -> bool:
    return bool(fits(document, key, evening_for(tonight), most=1))


def all_can_play(document: DrillDocument, key: str, tonight: DrillSearch) -> bool:
    """Fit once more, with nobody allowed to be off."""
    design, evening = design_of(document, key), evening_for(tonight)
    rules = replace(rules_for(design, evening), waiting=0.0, off=0.0)
    found = SetUpSearch(design, evening, rules=rules).found(50)
    return any(not each.split.serving for each in found)


@pytest.mark.sweep
def test_the_database_says_runs_exactly_where_fit_has_an_answer(db: None) -> None:
    """And that everybody plays exactly where some answer leaves nobody off: 500 evenings."""
    kept = [(document, keep(document)) for document in DOCUMENTS]
    said, all_play = 0, 0
    for number, tonight in enumerate(of_any_age(500, "five hundred")):
        document, drill = kept[number % len(kept)]
        rungs = list(drill.variations.all())
        rung = rungs[number % len(rungs)]
        runs = rooms_for(tonight).filter(footprint=rung.footprint_id).count()
        nobody_off = rooms_for_all(tonight).filter(footprint=rung.footprint_id).count()
        assert runs == answers(document, rung.key, tonight), (document.title, rung.key, tonight)
        assert nobody_off == all_can_play(document, rung.key, tonight), (document.title, rung.key, tonight)
        said, all_play = said + runs, all_play + nobody_off
    assert 100 <= all_play < said <= 400  # both answers come often enough to mean something


@pytest.mark.sweep
def test_with_kit_named_the_search_says_runs_exactly_where_fit_has_an_answer(people, monkeypatch) -> None:
    """Also for the minutes, the theme and the effort of a rung: 30 evenings × 7 drills; the library's page says the same."""
    from drills import actions, queries
    from drills.bridge import plain
    from drills.queries import facets, spelt
    from tests.drills.people import acting

    director, dice, coin, said = acting(people.director), random.Random("kit"), random.Random("page"), []
    goals = [{"key": "west", "edge": "left"}, {"key": "east", "edge": "right"}]
    big = [{**each, "size": "full"} for each in goals]
    kinds = [goals, goals, big, big[:1], goals[:1], [], [goals[0], big[1]]]
    for document, stands in zip(DOCUMENTS, kinds, strict=True):
        theme = dice.choice(["press", "finish"])
        changed = {**plain(document), "themes": [theme], "conditions": [], "phases": [], "variations": []}
        changed |= {
            "goals": stands,
            "work": {"minutes": dice.choice([10, 20]), "effort": dice.choice([4, 7])},
        }
        changed["variations"] = [
            {"key": "calm", "title": "Calm", "rung": "easier", "effort": 3, "changes": [ROOMY]}
        ]
        actions.create_drill(actor=director, document=changed)
    kept = list(Drill.objects.select_related("current_revision"))
    for tonight in evenings(30, "with kit"):
        kit = {
            "mini goals": dice.randint(0, 6),
            "moveable goals": dice.randint(0, 4),
            "marker cones": dice.choice([0, 8]),
        }
        named = tuple(sorted((kind, count) for kind, count in kit.items() if dice.random() < 0.7))
        wanted = replace(
            tonight,
            kit=named,
            theme=dice.choice(["", "press"]),
            effort_max=dice.choice([None, 5]),
            minutes=15,
        )
        runs = {each.pk: each.runs_key for each in queries.search(director, wanted)}
        monkeypatch.setattr(facets, "FEW_RUNGS", coin.choice([1, 3, 3000]))
        monkeypatch.setattr(spelt, "ENOUGH", coin.choice([1, 3, 1000]))
        monkeypatch.setattr(facets, "MOST_COUNTED", coin.choice([1, 3, 1000]))
        asked = replace(
            wanted, q=coin.choice(["", "lantern", "one", "lantren"]), kit=coin.choice([named, ()])
        )
        first, found = queries.hits_and_facets(director, asked)
        all_ = [each.pk for each in queries.search(director, asked)]
        assert ([each.pk for each in first[:]], found.more) == (
            all_[: facets.MOST_COUNTED],
            len(all_) > facets.MOST_COUNTED,
        )
        for drill in kept:
            document = document_of(drill.current_revision)
            matches = document.work.minutes <= 15 and wanted.theme in ("", *document.themes)
            rungs = [("", document.work.effort), ("calm", 3.0)] if matches else []
            keys = [
                key
                for key, effort in rungs
                if (wanted.effort_max or 10) >= effort and answers(document, key, wanted)
            ]
            assert runs.get(drill.pk) == (keys[0] if keys else None), (drill.title, wanted)
            said.append(bool(keys))
    assert 20 <= sum(said) <= 150


def test_rooms_without_a_number_or_a_side(db: None) -> None:
    keep(small())
    assert rooms_for(DrillSearch(length=9, width=9)).count() == 1
    assert rooms_for(DrillSearch(length=2, width=2)).count() == 0
    assert rooms_for(DrillSearch(players=5, width=9)).count() == 1
    assert rooms_for(DrillSearch(players=5, length=1)).count() == 0
    assert rooms_for(DrillSearch(players=2)).count() == 0
    assert rooms_for(DrillSearch(keepers=2)).count() == 1


def test_an_index_alone_finds_what_runs(db: None) -> None:
    keep(whole())
    query = rooms_for(DrillSearch(players=12, keepers=1, length=40, width=30)).order_by().values("footprint")
    with transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(
            "SET LOCAL enable_seqscan = off"
        )  # as with a big library, where reading it all costs more
        cursor.execute("SET LOCAL enable_bitmapscan = off")
        plan = query.explain()
    assert plan.startswith("Index Only Scan using setup_runs")


def test_rungs_and_drills_with_the_same_numbers_share_their_rooms(db: None) -> None:
    first = keep(whole())
    # "Eight seconds" changes a condition alone; "Wide and calm" changes the grid.
    footprints = dict(first.variations.values_list("key", "footprint_id"))
    assert footprints[""] == footprints["eight"] != footprints["wide"]
    rows = RoomNeeded.objects.count()
    second = keep(whole(title="Same numbers"))
    assert dict(second.variations.values_list("key", "footprint_id")) == footprints
    assert (Footprint.objects.count(), RoomNeeded.objects.count()) == (
        3,
        rows,
    )  # two rungs' and the drill's own


def test_a_drill_that_has_its_rooms_is_derived_with_few_queries(db: None, django_assert_num_queries) -> None:
    drill = keep(whole())
    # Read the settings (pitches in force); let the rungs go; find footprints, kit, known words; write the rungs.
    with django_assert_num_queries(6):
        derive(drill, whole())


def test_rederiving_makes_the_rooms_anew(db: None) -> None:
    def rooms() -> list[tuple]:
        return list(
            RoomNeeded.objects.order_by("footprint", "players", "keepers", "all_play", "classes").values_list(
                "footprint", "players", "keepers", "all_play", "classes", "longs_cm", "shorts_cm"
            )
        )

    drills = [with_revision(whole()), with_revision(whole(title="Same numbers"))]
    before = rooms()
    RoomNeeded.objects.filter(players=12).delete()
    RoomNeeded.objects.filter(players=13).update(longs_cm=[100], shorts_cm=[100])
    assert rederive_all() == 2
    assert rooms() == before
    RoomNeeded.objects.all().delete()
    rederive_drill(drill_id=drills[0].pk)
    assert rooms() == before


def test_after_the_engine_rises_only_outdated_drills_are_rederived(db: None) -> None:
    with_revision(whole())
    old = with_revision(small())
    Footprint.objects.filter(variations__drill=old).update(
        engine_version=ENGINE_VERSION - 1, fingerprint="old"
    )
    assert rederive_all(older_than=ENGINE_VERSION) == 1
    assert rederive_all(older_than=ENGINE_VERSION) == 0
    assert not Footprint.objects.filter(fingerprint="old").exists()
    assert set(Footprint.objects.values_list("engine_version", flat=True)) == {ENGINE_VERSION}
    old.variations.all().delete()
    assert rederive_all(older_than=ENGINE_VERSION) == 1
    tonight = DrillSearch(players=5, length=12, width=12)
    assert rooms_for(tonight).filter(footprint__variations__drill=old).exists()


def test_footprints_are_swept_when_no_rung_has_them(db: None) -> None:
    drill = keep(small())
    keep(whole())
    derive(drill, small(format="5v2"))
    assert (
        Footprint.objects.count() == 5
    )  # two of the one rung's, before and after; three of the other drill's
    assert sweep_footprints() == 1
    assert sweep_footprints() == 0
    left = set(RoomNeeded.objects.values_list("footprint", flat=True))
    used = Variation.objects.values_list("footprint").union(Drill.objects.values_list("footprint"))
    assert left == {each for (each,) in used}


def test_lengths_in_part_metres_are_exact(db: None) -> None:
    """A grid of 6.5 × 6.5 m that may hardly be tighter: a hand's breadth decides."""
    document = small(grids=[{**GRID, "length_m": 6.5, "width_m": 6.5}], numbers=FIVE)
    keep(document)
    for side in (6.49, 6.5, 6.51):
        tonight = DrillSearch(players=5, length=side, width=6.5)
        assert rooms_for(tonight).exists() == answers(document, "", tonight) == (side >= 6.5)
