"""What the library makes of a search, and what two people who wrote at once are told."""

import pytest

from drills.game.document import DrillDocument
from drills.pages import clashes
from drills.pages.library import evening_wanted, thumbnail
from drills.queries.search import DrillSearch
from tests.drills.samples import small


@pytest.mark.parametrize(
    ("players", "keepers", "expected"), [(None, None, 10), (None, 12, 12), (14, None, 14), (14, 2, 14)]
)
def test_whoever_says_no_players_gets_as_many_as_the_drill_is_written_for(
    players: int | None, keepers: int | None, expected: int
) -> None:
    assert (
        evening_wanted(DrillSearch(players=players, keepers=keepers), {}, as_written=10).players == expected
    )


def test_a_card_shows_the_small_plan() -> None:
    assert "plan-small" in thumbnail("a" * 64, small()).split(">")[0]


def test_who_changed_a_field_is_said() -> None:
    def titled(title: str) -> DrillDocument:
        return small(title=title)

    before = titled("Gates")
    for yours, theirs, said in (
        (before, titled("Doors"), "Only they changed this: it is in the form now."),
        (titled("Doors"), before, "Only you changed this."),
        (titled("Doors"), titled("Walls"), "Both of you changed this."),
    ):
        assert [(each.field, each.by) for each in clashes(yours, theirs, before)] == [("title", said)]
