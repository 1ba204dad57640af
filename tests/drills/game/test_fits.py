"""The one door to Fit: what nobody said, several pieces of ground, a share of the evening, reasons for none, what is remembered."""

from dataclasses import replace
from typing import Any

import pytest

from club.ages import Ages
from club.caches import KNOWN
from drills.game.evening import (
    AMPLE,
    STEPS,
    Evening,
    FixedGoal,
    Piece,
    UnreadableEvening,
    as_plain,
    from_plain,
    one_year,
    players_of,
    typed_ground,
)
from drills.game.fit import fit_on
from drills.game.fits import fits, fits_design
from drills.game.playable import design_of
from tests.drills.samples import whole

MILL, BARN = Piece("Mill", 60, 20), Piece("Barn", 36, 30)


def test_what_nobody_said_is_named() -> None:
    assert Evening(12).unsaid == {"keepers", "adults", "ages", "pieces", "kit"}
    said = Evening(12, 0, 0, one_year(12), (MILL,), {"balls": 0})
    assert said.unsaid == frozenset()
    assert Evening(12).ground == (AMPLE,)
    assert [Evening(12).adults_for(needed) for needed in (0, 1, 3)] == [1, 1, 3]
    assert Evening(12, adults=0).adults_for(3) == 0


def test_ground_is_asked_from_the_largest_piece_on() -> None:
    same = Piece("Yard", 30, 40)
    assert Evening(12, pieces=(BARN, MILL)).ground == (MILL, BARN)
    assert Evening(12, pieces=(MILL, same)).ground == (MILL, same), "of equals the first"


@pytest.mark.parametrize(
    ("length", "width", "sides"),
    [
        (None, None, None),
        (30, 20, (30, 20)),
        (30, None, (30, AMPLE.width_m)),
        (None, 20, (AMPLE.length_m, 20)),
    ],
)
def test_typed_ground_is_open_on_all_sides(length: Any, width: Any, sides: Any) -> None:
    ground = typed_ground(length, width)
    assert [(each.length_m, each.width_m) for each in ground] == ([] if sides is None else [sides])
    assert all(len(each.edges("open")) == 4 for each in ground)


def test_a_share_of_the_evening_has_one_adult_and_its_own_ground() -> None:
    whole_evening = Evening(24, 2, 3, one_year(12), (MILL, BARN), {"balls": 30})
    share = whole_evening.for_station(8, BARN, keepers=1)
    assert (share.players, share.keepers, share.adults, share.pieces) == (8, 1, 1, (BARN,))
    assert (share.ages, share.kit) == (whole_evening.ages, whole_evening.kit)
    assert whole_evening.for_station(8).pieces == (MILL, BARN)


def test_a_key_tells_apart_whatever_fit_reads() -> None:
    plain = Evening(12, 1, 2, one_year(12), (MILL,), {"a": 1, "b": 2})
    assert plain.fit_key() == replace(plain, kit={"b": 2, "a": 1}).fit_key()
    others: list[dict[str, Any]] = [
        {"players": 13},
        {"keepers": None},
        {"adults": None},
        {"ages": one_year(13)},
        {"pieces": (replace(MILL, left="fence"),)},
        {"kit": {"a": 1}},
        {"chosen": True},
    ]
    keys = {plain.fit_key(), *(replace(plain, **each).fit_key() for each in others)}
    assert len(keys) == 1 + len(others)


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"players": 0}, "players"),
        ({"players": 61}, "players"),
        ({"players": 5, "keepers": 6}, "keepers"),
        ({"players": 5, "keepers": -1}, "keepers"),
        ({"players": 5, "adults": -1}, "adults"),
        ({"players": 5, "kit": {"balls": -1}}, "kit"),
    ],
)
def test_what_cannot_be_names_its_field(wrong: dict[str, Any], field: str) -> None:
    with pytest.raises(ValueError, match=f"^{field}: "):
        Evening(**wrong)


def test_ages_of_a_group_and_of_one_year() -> None:
    assert players_of(Ages(12)) == one_year(12)
    adults = players_of(Ages(None, over=18), 11)
    assert (adults.under_low, adults.under_high, adults.youngest_years, adults.a_side) == (19, None, 18, 11)


# ---- kept --------------------------------------------------------------------------------------------------------


def test_an_evening_is_kept_as_plain_data_and_read_again() -> None:
    import json

    goal = FixedGoal("left", 0.5, "small")  # type: ignore[arg-type]
    evening = Evening(
        12, 1, 2, players_of(Ages(11, years=2)), (replace(MILL, left="fence", goals=(goal,)),), {"balls": 3}
    )
    for each in (evening, Evening(5), replace(evening, chosen=True)):
        assert from_plain(json.loads(json.dumps(as_plain(each)))) == each


@pytest.mark.parametrize("schema", [None, 0, 2, "1"])
def test_an_unknown_schema_is_refused_in_words(schema: object) -> None:
    with pytest.raises(UnreadableEvening, match=rf"another version \(schema {schema}\)"):
        from_plain({**as_plain(Evening(12)), "schema": schema})
    with pytest.raises(UnreadableEvening, match="players"):
        from_plain({**as_plain(Evening(12)), "players": 0})


def test_an_older_schema_is_brought_up_step_by_step(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(STEPS, 0, lambda plain: {"players": plain["came"]})
    assert from_plain({"schema": 0, "came": 9}) == Evening(9)


# ---- the door ----------------------------------------------------------------------------------------------------


def test_on_one_piece_it_is_fit() -> None:
    document = whole()
    for key in ("", *(each.key for each in document.variations)):
        evening = Evening(13, pieces=(BARN,))
        found = fits(document, key, evening)
        assert list(found) == fit_on(design_of(document, key), evening)
        assert found.first[0] == found[0]
        assert {each.piece for each in found} == {"Barn"}


def test_of_two_pieces_each_answer_lies_where_it_is_nearest() -> None:
    document = whole()
    both, apart = (
        fits(document, "", Evening(13, pieces=(MILL, BARN))),
        [fits(document, "", Evening(13, pieces=(each,))) for each in (MILL, BARN)],
    )
    assert {each.piece for each in both} == {"Mill", "Barn"}
    for setup in both:
        same = [each for found in apart if (each := found.find(setup.numbers, setup.grids))]
        assert setup.distance == pytest.approx(min(each.distance for each in same))
    assert [each.distance for each in both] == sorted(each.distance for each in both)
    assert both.find("9v9", 7) is None


def test_where_nothing_works_it_says_why() -> None:
    none = fits(whole(), "", Evening(3))
    assert (list(none), none.first, [each.key for each in none.refusals]) == ([], (), ["too_few"])
    assert fits(whole(), "", Evening(13)).refusals == ()
    with pytest.raises(KeyError):
        fits(whole(), "no such rung", Evening(13))


def test_a_drill_that_a_coach_has_chosen_is_not_ruled_out_by_its_ages() -> None:
    older = whole(under_from=14, under_to=16)
    evening = Evening(12, ages=one_year(9))
    assert [each.key for each in fits(older, "", evening).refusals] == ["too_young"]
    chosen = fits(older, "", replace(evening, chosen=True))
    assert chosen
    many = fits(older, "", replace(evening, players=24, adults=1, chosen=True))
    assert max(each.grids for each in many) == 2, "the youngest still have one adult for two grids"


def test_what_is_remembered_is_bounded_and_may_be_left_out() -> None:
    (cache,) = [each.cache for each in KNOWN if each.name.startswith("drills.game.fits")]
    design = design_of(whole())
    cache.clear()
    for players in range(8, 20):
        fits_design(design, Evening(players), remember=False)
    assert not cache
    first = fits_design(design, Evening(12))
    assert fits_design(design, Evening(12)) is first
    assert 0 < cache.currsize <= cache.maxsize == 16 * 1024**2
