"""Bibs in a drill that is being written: hints, and words that follow a bib that was changed."""

from typing import Any

from drills.game.bibs.written import bib_hints, bibs_follow
from drills.game.document import DrillDocument
from drills.game.validate import errors, problems
from tests.drills.samples import small

GROUPS: list[dict[str, Any]] = [
    {"key": "A", "name": "reds", "plays_for": "A", "place": "inside", "least": 4, "bib": "red"},
    {"key": "B", "name": "blues", "plays_for": "B", "place": "inside", "least": 4, "bib": "blue"},
]


def written(*said: str, groups: list[dict[str, Any]] = GROUPS, **more: Any) -> DrillDocument:
    return small(**{"format": "4v4", "groups": groups, "say_this": list(said), **more})


def hinted(*said: str, **more: Any) -> list[str]:
    return [each.sentence.key for each in bib_hints(written(*said, **more))]


def test_a_colour_that_nobody_wears_is_pointed_out() -> None:
    assert hinted("Greens go first.") == ["bib_nobody_wears"]
    hint = next(iter(bib_hints(written("Greens go first."))))
    assert (hint.field, hint.severity) == ("say_this", "hint")
    assert "“Greens go first.” speaks of green" in hint.text
    assert hint.text in [each.text for each in problems(written("Greens go first."))]
    assert errors(written("Greens go first.")) == []


def test_a_colour_that_would_stay_is_pointed_out() -> None:
    assert hinted("Press when red turns.") == ["bib_stays"]


def test_what_is_no_players_colour_is_no_hint() -> None:
    fine = ("Reds press a blue.", "Round the green cone.", 'I call "yellow".')
    assert hinted(*fine) == []
    bare = [{**each, "bib": None} for each in GROUPS]
    assert hinted("Greens go first.", groups=bare) == []


def test_every_sentence_follows_a_bib_that_was_changed() -> None:
    before = written("Reds pass round the red cone.", "A red or a blue.")
    after = written(*before.say_this, groups=[{**GROUPS[0], "bib": "orange"}, GROUPS[1]])
    made = bibs_follow(before, after)
    assert made.say_this == ("Oranges pass round the red cone.", "An orange or a blue.")
    assert [(each.name, each.bib) for each in made.groups] == [("oranges", "orange"), ("blues", "blue")]


def test_a_name_that_was_written_anew_stays_as_it_is_meant() -> None:
    before = written("Reds first.")
    after = written(
        "Reds first.", groups=[{**GROUPS[0], "bib": "orange", "name": "the red foxes"}, GROUPS[1]]
    )
    assert bibs_follow(before, after).groups[0].name == "the red foxes"


def test_nothing_follows_where_somebody_wears_the_old_colour_still() -> None:
    before = written("Reds first.")
    swapped = [{**GROUPS[0], "bib": "blue"}, {**GROUPS[1], "bib": "red"}]
    after = written("Reds first.", groups=swapped)
    assert bibs_follow(before, after) == after
    assert bibs_follow(before, before) == before
