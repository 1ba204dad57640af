"""A run written down as a drill of its own: valid, the same game, in the written colours, with the variations that still hold."""

from dataclasses import replace
from typing import Any

import msgspec
import pytest

from drills.game.bibs import colours_worn
from drills.game.document import DrillDocument
from drills.game.document.content import Work
from drills.game.document.operations import SetGrid
from drills.game.evening import Evening
from drills.game.fit import SetUp
from drills.game.fits import fits
from drills.game.format import Format
from drills.game.made.mine import (
    DrillRun,
    fits_written,
    is_otherwise,
    played_so,
    rounds_as_written,
    written_down,
)
from drills.game.played import as_played
from drills.game.validate import errors
from drills.game.variations import played
from drills.queries.mine import title_of, version_of
from tests.bibrack.demo.documents import SLUGS, demo_document
from tests.drills.samples import whole

ROUNDS = Work(minutes=20, bouts=6, bout_s=150, rest_s=30, effort=6.0)


def found(document: DrillDocument, players: int, rung: str = "", most: int = 1) -> list[SetUp]:
    return list(fits(document, rung, Evening(players, chosen=True), most=most))


def mine(document: DrillDocument, run: DrillRun, **given: Any) -> DrillDocument:
    return written_down(
        document, run, **{"title": "Mine", "size_for": "as it was run", "scene": None, **given}
    )


@pytest.mark.parametrize("slug", SLUGS)
def test_any_run_of_any_drill_is_a_document_that_says_the_same_game(slug: str) -> None:
    document = demo_document(slug)
    for key in ("", *(each.key for each in document.variations)):
        for setup in found(document, 9, key) + found(document, 15, key):
            run = DrillRun(key, setup, ROUNDS)
            copy = version_of(document, run)
            assert errors(copy) == []
            then, now = played_so(document, run), as_played(copy)
            assert Format.parse(copy.format) == then.first.format
            assert [(each.side, each.bib, each.count, each.place) for each in then.first.groups] == [
                (each.side, each.bib, each.count, each.place) for each in now.first.groups
            ]
            assert (now.first.length_m, now.first.width_m) == (then.first.length_m, then.first.width_m)
            assert copy.work == ROUNDS
            assert copy.say_this == document.say_this


def test_colours_stay_as_written_whatever_was_worn() -> None:
    document = whole()
    [setup] = found(document, 15)
    copy = mine(document, DrillRun("", setup, document.work))
    written, now = (Format.parse(each.format) for each in (document, copy))
    assert colours_worn(document, written).items() <= colours_worn(copy, now).items()


def test_as_written_there_is_nothing_to_write_down() -> None:
    document = whole()
    [as_designed] = [
        each for each in found(document, 12, most=5) if each.as_designed and each.length_m == 25
    ][:1]
    for setup in (None, as_designed):
        run = DrillRun("", setup, document.work)
        assert (fits_written(document, run), rounds_as_written(document, run)) == (True, True)
        assert not is_otherwise(document, run)
    assert is_otherwise(document, DrillRun("wide", None, played(document, "wide").work))
    assert is_otherwise(document, DrillRun("", None, ROUNDS))
    longer = msgspec.structs.replace(document.work, minutes=document.work.minutes + 5)
    assert not is_otherwise(document, DrillRun("", None, longer))  # minutes alone are no other game


def test_the_variation_that_was_run_becomes_the_drill() -> None:
    document = whole()
    copy = mine(document, DrillRun("eight", None, played(document, "eight").work))
    assert copy.conditions == played(document, "eight").conditions
    assert [each.key for each in copy.variations] == ["wide"]
    assert copy.grids == document.grids


def test_other_grids_of_variations_keep_their_proportion() -> None:
    document = whole()  # 25 × 20, wide is 35 × 30
    [setup] = found(document, 12)
    smaller = replace(setup, length_m=20.0, width_m=16.0, grid_sizes=((20.0, 16.0),))
    copy = mine(document, DrillRun("", smaller, document.work))
    change = next(each for each in copy.variations if each.key == "wide").changes[0]
    assert isinstance(change, SetGrid)
    assert (change.length_m, change.width_m) == (28.0, 24.0)
    assert (copy.grids[0].length_m, copy.grids[0].width_m, copy.grids[0].purpose) == (
        20.0,
        16.0,
        "as it was run",
    )
    assert copy.grids[1:] == document.grids[1:]


def test_rules_of_a_group_that_was_not_there_are_left_out() -> None:
    document = demo_document("clear-the-harbour")
    named = {"K1"} & {each.key for each in document.groups}
    assert named
    answers = found(document, 7, most=9)
    setup = next(each for each in answers if not any(side.keeper for side in each.format.sides))
    copy = version_of(document, DrillRun("", setup, document.work))
    assert len(copy.conditions) == len(document.conditions) - 1
    assert "K1" not in {each.key for each in copy.groups}


@pytest.mark.parametrize(
    ("rung", "players", "title"),
    [
        ("", 15, "Lantern Gates (for 15)"),
        ("eight", 15, "Lantern Gates, Eight seconds (for 15)"),
        ("eight", None, "Lantern Gates, Eight seconds"),
        ("", None, "Lantern Gates (my rounds)"),
    ],
)
def test_its_title_says_what_it_is(rung: str, players: int | None, title: str) -> None:
    document = whole()
    setup = found(document, players, rung)[0] if players else None
    if setup is not None and setup.grids > 1:
        title = title.replace("(for 15)", f"({setup.numbers})")
    assert title_of(document, DrillRun(rung, setup, ROUNDS)) == title


def test_a_long_title_is_cut_not_refused() -> None:
    document = whole(title="x" * 80)
    run = DrillRun("eight", found(document, 15, "eight")[0], ROUNDS)
    assert len(version_of(document, run).title) <= 80
    assert errors(version_of(document, run)) == []
