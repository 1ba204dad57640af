"""A drill as it is run: groups, words, kit and plans of one evening."""

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drills.drawing.picture import laid
from drills.game.document import DrillDocument
from drills.game.evening import Evening
from drills.game.fit import serialize
from drills.game.fits import fits
from drills.game.format import Format, UnclearFormat
from drills.game.played import as_played, dressed
from drills.game.played.document import phase_tonight
from drills.game.wording import text_of
from tests.bibrack.demo.documents import demo_document
from tests.drills.samples import small, whole
from tests.sweep.held import contradictions

STOCK = {"red bibs": 12, "blue bibs": 12, "yellow bibs": 12, "green bibs": 12}


def tonight(document: DrillDocument, players: int, rung: str = "", **more: object):
    evening = Evening(players, **{"kit": STOCK, **more})
    return dressed(document, rung, fits(document, rung, evening)[0], evening)


def test_as_written_is_the_document_itself() -> None:
    document = whole()
    run = as_played(document)
    assert run.document is document
    assert (str(run.first.format), run.off, len(run.grids)) == (document.format, 0, 1)


def test_groups_are_counted_and_everything_speaks_of_tonights_bibs() -> None:
    run = tonight(demo_document("wide-open"), 14)
    counts = {each.name: (each.bib, each.count) for each in run.first.groups}
    assert counts["the near winger"][1] == counts["the far winger"][1] == 1
    assert {"purples", "oranges"}.isdisjoint(counts)
    assert [each.least for each in run.document.groups] == [each.count for each in run.first.groups]
    said = " ".join(run.document.say_this)
    assert f"{counts['the near winger'][0]} winger" in said
    assert "white" not in said


def test_the_wingers_stand_in_their_channels() -> None:
    scene = laid(tonight(demo_document("wide-open"), 14)).scene
    channels = {each.key: each for each in scene.zones}
    wingers = [each for each in scene.players if each.group in ("N1", "N2")]
    assert len(wingers) == 2
    for each in wingers:
        zone = channels[each.zone]
        assert zone.y_m <= each.y_m <= zone.y_m + zone.width_m


def test_a_rung_keeps_what_it_fixes_and_the_goals_names_follow() -> None:
    run = tonight(demo_document("wide-open"), 12)
    assert set(run.names().goals.values()) == {
        f"{bib} goal" for bib in (run.first.worn["A"], run.first.worn["B"])
    }


@pytest.mark.parametrize(
    ("written", "phase", "tonight", "becomes"),
    [
        ("5v5+2in", "6v5", "7v6+2in", "8v6"),
        ("GK+4v4+GK", "GK+4v4+GK", "GK+5v5+GK", "GK+5v5+GK"),
        ("4v4", "4v2", "6v6", "6v4"),
        ("4v4", "3v1", "2v2", "3v1"),  # nobody would be left
        ("3v2", "3v3", "3v2", "3v3"),
    ],
)
def test_a_phase_is_said_in_tonights_numbers(written: str, phase: str, tonight: str, becomes: str) -> None:
    assert phase_tonight(phase, Format.parse(written), Format.parse(tonight)) == becomes


def test_kit_counts_the_bibs_that_are_worn() -> None:
    run = tonight(demo_document("wide-open"), 14)
    outfield = [each for each in run.first.groups if not each.keeps_goal]
    assert run.kit["bibs"] == sum(each.count for each in outfield if each.bib) == sum(run.bibs.values())


def test_who_comes_on_top_of_the_drills_groups_has_a_name_and_a_bib() -> None:
    document = small(
        format="4v4",
        groups=[
            {
                "key": "A",
                "name": "reds",
                "plays_for": "A",
                "place": "inside",
                "least": 3,
                "most": 5,
                "bib": "red",
            },
            {
                "key": "B",
                "name": "blues",
                "plays_for": "B",
                "place": "inside",
                "least": 3,
                "most": 5,
                "bib": "blue",
            },
        ],
    )
    evening = Evening(9, kit=STOCK)
    answer = next(each for each in fits(document, "", evening) if each.format.neutrals)
    run = dressed(document, "", answer, evening)
    added = run.first.groups[-1]
    assert (added.count, added.bib) == (1, run.first.worn["neutral"])
    assert added.key in {each.key for each in run.document.groups}


def test_grids_alike_are_told_once_and_other_bibs_are_named() -> None:
    document = demo_document("two-bridges")
    alike = tonight(document, 12)
    if len(alike.grids) > 1:
        assert sum(times for _grid, times in alike.pictures) == len(alike.grids)
    few = {f"{colour} bibs": 2 for colour in ("red", "blue", "white", "green", "pink", "grey")}
    apart = tonight(document, 12, kit=few)
    said = [text_of(each) for each in apart.other_colours]
    assert len(said) == sum(grid.worn != apart.first.worn for grid in apart.grids)
    assert all(text.startswith("Grid ") for text in said)


def test_a_set_up_is_kept_whole_and_read_back() -> None:
    run = tonight(demo_document("two-stay-three-fly"), 17)
    assert run.setup is not None
    bibs = tuple(each.wear for each in run.grids)
    plain = msgspec.json.decode(
        msgspec.json.encode(serialize.as_plain(serialize.KeptSetUp(run.setup, bibs, 5)))
    )
    again = serialize.from_plain(plain)
    assert (again.setup, again.engine) == (run.setup, 5)
    assert as_played(run.written, "", again.setup, again.bibs).grids == run.grids


@pytest.mark.parametrize("plain", [{}, {"schema": 99}, {"schema": 1, "setup": {"grids": "two"}}])
def test_a_set_up_of_another_schema_is_refused_with_a_sentence(plain: dict[str, object]) -> None:
    with pytest.raises(serialize.UnreadableSetUp):
        serialize.from_plain(plain)


def test_an_older_schema_is_brought_up(monkeypatch: pytest.MonkeyPatch) -> None:
    run = tonight(demo_document("bite-back"), 9)
    assert run.setup is not None
    old = {**serialize.as_plain(serialize.KeptSetUp(run.setup)), "schema": 0, "motor": 4}

    def renamed(plain: serialize.Plain) -> serialize.Plain:
        return {**{name: value for name, value in plain.items() if name != "motor"}, "engine": plain["motor"]}

    monkeypatch.setitem(serialize.STEPS, 0, renamed)
    assert serialize.from_plain(old).engine == 4


def test_a_document_that_cannot_be_read_says_so() -> None:
    with pytest.raises(UnclearFormat):
        as_played(small(format="5v5+GK"))


@settings(max_examples=25)
@given(
    st.sampled_from(
        ["wide-open", "three-rooms", "colour-chain", "post-and-return", "early-birds", "night-cats"]
    ),
    st.integers(6, 24),
    st.dictionaries(
        st.sampled_from(["red bibs", "pink bibs", "black bibs", "white bibs"]), st.integers(0, 14)
    ),
)
def test_no_evening_contradicts_itself(slug: str, players: int, kit: dict[str, int]) -> None:
    """The sweep (`python -m tests.sweep`) does it with every drill; here on stocks that nobody thought of."""
    document, evening = demo_document(slug), Evening(players, kit=kit)
    for each in fits(document, "", evening).first:
        run = dressed(document, "", each, evening)
        assert list(contradictions(run)) == []
        assert as_played(document, "", each, tuple(grid.wear for grid in run.grids)) == run
