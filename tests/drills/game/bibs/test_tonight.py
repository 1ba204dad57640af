"""Which bibs are worn tonight, out of those that there are."""

from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from drills.game.bibs import COLOURS, NO_BIB, RESTING, bibs_for, bibs_in, colours_worn, in_colours
from drills.game.document.codec import to_plain
from drills.game.format import Format
from tests.drills.samples import small, whole

GROUPS = [
    {"key": "A", "name": "reds", "plays_for": "A", "place": "inside", "least": 4, "bib": "red"},
    {"key": "B", "name": "blues", "plays_for": "B", "place": "inside", "least": 4, "bib": "blue"},
]
KEEPER = {"key": "K", "name": "the red keeper", "plays_for": "A", "place": "goal", "least": 1, "role": "keeper", "bib": "green"}  # fmt: skip


def document(*more, text="4v4"):
    return small(format=text, groups=[*GROUPS, *more])


def worn(stock, *texts, of=None, waiting=0):
    formats = [Format.parse(each) for each in texts or ("4v4",)]
    return list(bibs_for(of or document(), formats, stock, waiting=waiting))


def test_written_colours_stay_where_there_are_enough_of_them() -> None:
    assert worn([("red", 4), ("blue", 9)]) == [{}]
    assert worn([]) == [{}]  # nobody has counted


def test_another_colour_where_there_are_too_few() -> None:
    assert worn([("red", 3), ("blue", 9), ("yellow", 4)]) == [{"red": "yellow"}]


def test_several_grids_wear_the_same_where_the_stock_allows_it() -> None:
    assert worn([("red", 4), ("blue", 8), ("white", 8)], "4v4", "4v4") == [{"red": "white"}] * 2
    apart = worn([("red", 4), ("blue", 4), ("white", 4), ("pink", 4)], "4v4", "4v4")
    assert apart[0] == {}
    assert set(apart[1].values()) == {"white", "pink"}


def test_keepers_never_wear_a_sides_colour() -> None:
    tonight = worn([("green", 9), ("blue", 9)], "GK+4v4", of=document(KEEPER, text="GK+4v4"))[0]
    assert tonight["red"] == "green"
    assert tonight["green"] not in {"green", "blue"}


def test_a_whole_team_that_rests_has_a_colour_of_its_own() -> None:
    stock = [("red", 4), ("blue", 4), ("pink", 4)]
    assert worn(stock, waiting=4) == [{RESTING: "pink"}]
    assert worn(stock, waiting=3) == [{}]
    assert worn([], waiting=4)[0].keys() == {RESTING}


def test_a_side_without_bibs_wears_none_and_one_without_groups_what_is_free() -> None:
    bare = small(format="4v4", groups=[GROUPS[0], {**GROUPS[1], "bib": None}])
    assert colours_worn(bare, Format.parse("4v4")) == {"A": "red", "B": NO_BIB}
    assert colours_worn(document(), Format.parse("4v4+2")) == {"A": "red", "B": "blue", "neutral": "yellow"}
    keepers = small(format="3GK", activity="keeper", groups=[{**KEEPER, "least": 3}])
    assert colours_worn(keepers, Format.parse("3GK")) == {"A": "green"}


def test_a_stock_is_told_by_colour() -> None:
    kit = {"bibs": 14, "balls": 9, "blue bibs": 4, "red bibs": 10, "tartan bibs": 3}
    assert bibs_in(kit) == [("red", 10), ("blue", 4), ("tartan", 3)]


@settings(max_examples=60)
@given(
    st.dictionaries(st.sampled_from(COLOURS[:6]), st.integers(0, 10), max_size=6),
    st.sampled_from(["4v4", "5v3", "2v2", "6v4"]),
)
def test_as_few_changes_as_can_be_and_never_more_than_there_are(stock, text) -> None:
    """Against every way to give out the colours."""
    fmt = Format.parse(text)
    needs = [("red", fmt.sides[0].inside), ("blue", fmt.sides[1].inside)]
    ways = [
        way
        for way in permutations(stock, 2)
        if all(stock[colour] >= count for colour, (_, count) in zip(way, needs, strict=True))
    ]
    tonight = bibs_for(document(text=text), [fmt], list(stock.items()))[0]
    found = tuple(tonight.get(colour, colour) for colour, _ in needs)
    if not ways:
        assert tonight == {}
        return
    changes = [sum(a != b for a, (b, _) in zip(way, needs, strict=True)) for way in ways]
    assert found in ways
    assert sum(a != b for a, (b, _) in zip(found, needs, strict=True)) == min(changes)


def test_a_document_in_other_colours_changes_nothing_else() -> None:
    written = whole()
    there = in_colours(written, {"red": "pink", "blue": "grey", "yellow": "black"})
    assert there != written
    assert in_colours(there, {"pink": "red", "grey": "blue", "black": "yellow"}) == written
    assert in_colours(written, {"red": "red"}) is written
    plain, other = to_plain(written), to_plain(there)
    assert [each["key"] for each in plain["groups"]] == [each["key"] for each in other["groups"]]
    assert plain["title"] == other["title"]


def test_what_names_things_is_no_text() -> None:
    red = small(format="4v4", title="The Reds Come Home", groups=[{**GROUPS[0], "key": "reds"}, GROUPS[1]])
    there = in_colours(red, {"red": "pink"})
    assert (there.groups[0].key, there.format, there.title) == ("reds", "4v4", "The Reds Come Home")
    assert (there.groups[0].name, there.groups[0].bib) == ("pinks", "pink")
