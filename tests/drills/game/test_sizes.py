"""What a grid is for and the room in it: the drill's own words stand alone, and the figure says who is counted."""

import pytest

from drills.game.document.operations import SetGrid
from drills.game.format import Format
from drills.game.pitches import first_word_for
from drills.game.playable import design_of
from drills.game.sizes import Size, purpose_of, room_of, size_of
from drills.game.variations import find, played
from tests.bibrack.demo.documents import SLUGS, demo_document
from tests.drills.samples import whole

RUNGS = [
    (slug, key) for slug in SLUGS for key in ("", *(each.key for each in demo_document(slug).variations))
]


def sizes(slug: str, key: str = "") -> list[Size]:
    base = demo_document(slug)
    doc = played(base, key)
    return [size_of(base, doc, each, Format.parse(doc.format)) for each in doc.grids]


@pytest.mark.parametrize("slug", SLUGS)
def test_each_grid_of_the_demo_is_said_in_the_drills_own_words(slug: str) -> None:
    base = demo_document(slug)
    assert [each.purpose for each in sizes(slug)] == [each.purpose for each in base.grids]


@pytest.mark.parametrize(("slug", "key"), RUNGS)
def test_one_size_has_one_purpose_in_all_variations(slug: str, key: str) -> None:
    """A variation that makes the first grid larger does not carry its "tight" along."""
    purposes = {(each.length_m, each.width_m): each.purpose for each in demo_document(slug).grids}
    for each in sizes(slug, key):
        assert each.purpose == purposes.get((each.length_m, each.width_m), "")


def test_some_variations_of_the_demo_have_a_size_of_their_own_and_some_a_presets() -> None:
    changed = [
        (slug, key)
        for slug, key in RUNGS
        if (rung := find(demo_document(slug), key))
        and any(isinstance(each, SetGrid) for each in rung.changes)
    ]
    assert {bool(sizes(slug, key)[0].purpose) for slug, key in changed} == {True, False}


@pytest.mark.parametrize(("slug", "key"), RUNGS)
def test_the_area_is_the_one_that_fit_reckons_with(slug: str, key: str) -> None:
    design, first = design_of(demo_document(slug), key), sizes(slug, key)[0]
    assert (first.room.m2 if first.room else None) == design.area_per_player_m2
    if first.room:
        assert first.room.counted == ("everyone" if design.counts_everyone else "inside")


def test_of_two_grids_of_one_size_each_keeps_its_own_words() -> None:
    grids = [
        {"key": key, "length_m": 25, "width_m": 20, "purpose": key} for key in ("before rest", "after rest")
    ]
    document = whole(grids=[{**each, "key": f"g{n}"} for n, each in enumerate(grids)], variations=[])
    assert [purpose_of(document, each) for each in document.grids] == ["before rest", "after rest"]


def test_who_is_counted() -> None:
    game, rondo = whole(), whole(activity="rondo")
    inside = room_of(game, Format.parse("4v4+4"), 25, 20)
    everyone = room_of(rondo, Format.parse("4v4+4"), 25, 20)
    assert inside
    assert (inside.m2, inside.counted) == (62.5, "inside")
    assert everyone
    assert (round(everyone.m2, 2), everyone.counted) == (41.67, "everyone")
    for activity in ("finishing", "pattern"):
        assert room_of(whole(activity=activity), Format.parse("4v4+4"), 25, 20) is None
    queue = {"work_s": 10, "wait_s": 30, "next": "the next pair"}
    assert room_of(whole(queue=queue), Format.parse("4v4+4"), 25, 20) is None


def test_a_first_word_goes_by_the_groups_own_format() -> None:
    """60 m² are 29 % of the match area of nine a side (209 m²), 36 % of seven a side (167 m²): arithmetic."""
    assert first_word_for(60, 12) == "tight"  # usually nine a side
    assert first_word_for(60, 12, a_side=7) == "medium"
    assert first_word_for(60, 11) == "medium"  # usually seven a side
    # Among eleven a side the age decides: 24 % of the adults' 322 m², 37 % of the youngest's 207 m².
    assert (first_word_for(77, 18), first_word_for(77, 14)) == ("tight", "medium")
