"""Conditions and variations in the form: sentences to complete, their order, contradictions beside their field."""

from typing import Any

import pytest

from club.errors import Refused
from drills.forms import DrillEditor
from drills.forms.html import row_html
from drills.validators import to_document
from tests.drills.samples import whole
from tests.drills.typed import THEMES, gates, opened, plain, saved, write


def test_one_when_has_three_consequences_in_order() -> None:
    data = gates()
    write(data, zones__0__name="the middle", zones__0__part="middle third")
    write(data, whens__0__then_1="phase", whens__0__phase_1="#1")
    write(data, whens__0__then_2="zone opens", whens__0__then_zone_2="#1")
    editor = saved(None, data)
    assert editor.is_valid()
    condition = next(each for each in to_document(editor.document).conditions if hasattr(each, "then"))
    assert [(each.kind.value, each.phase, each.zone) for each in condition.then] == [
        ("goals open", None, None),
        ("phase", "the-rush", None),
        ("zone opens", None, "the-middle"),
    ]


def test_a_place_is_named_before_it_is_there() -> None:
    data = gates()
    write(data, gates__0__spot="left", whens__0__when="through a gate", whens__0__when_place="gate#1")
    write(data, variations__0__kind_0="weaker foot")
    editor = saved(None, data)
    assert editor.is_valid()
    condition = next(each for each in to_document(editor.document).conditions if hasattr(each, "then"))
    assert (condition.when.place, condition.when.number) == ("gate", None)


def test_what_a_kind_does_not_ask_for_is_dropped_with_the_kind() -> None:
    base = plain(whole())
    data = opened(base)
    write(data, whens__0__when="goal", limits__0__kind="weaker foot")
    editor = saved(base, data)
    assert editor.is_valid()
    document = to_document(editor.document)
    limit = next(each for each in document.conditions if getattr(each, "kind", None))
    condition = next(each for each in document.conditions if hasattr(each, "then"))
    assert (condition.when.kind.value, condition.when.number) == ("goal", None)
    assert (limit.kind.value, limit.number) == ("weaker foot", None)


def test_a_limit_holds_in_a_zone_and_a_phase() -> None:
    base = plain(whole())
    data = opened(base)
    write(data, limits__0__in_zone="mid", limits__0__in_phase="rush")
    editor = saved(base, data)
    assert editor.is_valid()
    limit = to_document(editor.document).conditions[0]
    assert (limit.scope.group, limit.scope.zone, limit.scope.phase) == ("N", "mid", "rush")
    again = opened(plain(to_document(editor.document)))
    assert (again["limits-0-in_zone"], again["limits-0-in_phase"]) == ("mid", "rush")


@pytest.mark.parametrize(
    ("move", "titles"),
    [
        ("variations-1-up", ["Wide and calm", "Eight seconds"]),
        ("variations-0-down", ["Wide and calm", "Eight seconds"]),
        ("variations-0-up", ["Eight seconds", "Wide and calm"]),  # it is the first
        ("variations-9-up", ["Eight seconds", "Wide and calm"]),  # it is not there
        ("groups-0-x", ["Eight seconds", "Wide and calm"]),
    ],
)
def test_variations_move_with_all_that_was_typed(move: str, titles: list[str]) -> None:
    base = plain(whole())
    data = opened(base)
    data["title"] = "Typed before"
    shown = DrillEditor(base, data, themes=THEMES, move=move)
    assert [row["title"].value() for row in shown.sets["variations"].forms][:2] == titles
    kept = data.copy()
    for row in shown.sets["variations"].forms:
        for field in row:
            kept[field.html_name] = field.value() or ""
    editor = saved(base, kept)
    assert editor.is_valid(), [row.errors for row in editor.sets["variations"].forms]
    document = to_document(editor.document)
    assert [each.title for each in document.variations] == titles
    assert document.title == "Typed before"
    by_title = {each.title: each.changes for each in document.variations}
    assert by_title == {each.title: each.changes for each in whole().variations}


CONTRADICTIONS: list[tuple[dict[str, Any], str, int, str]] = [
    ({"limits__0__number": 0}, "limits", 0, "number"),  # at most 0 touches
    ({"phases__0__format": "9v9"}, "phases", 0, "format"),  # more players than there are
    (
        {"goals__0__DELETE": "on", "goals__1__DELETE": "on"},
        "whens",
        0,
        "goals",
    ),  # goals that are not there open
    ({"grids__0__length_m": 125}, "grids", 0, "length_m"),  # larger than the largest pitch
    ({"grids__0__width_m": 95}, "grids", 0, "width_m"),
    ({"grids__0__width_m": 1}, "grids", 0, "width_m"),
    ({"whens__0__DELETE": "on"}, "variations", 0, "__all__"),  # it changes what the drill no longer has
    ({"whens__0__when": "passes"}, "whens", 0, "when_number"),  # so many of what is counted
    ({"phases__0__DELETE": "on"}, "whens", 0, "phase_1"),  # a phase that is not there starts
    ({"groups__0__least": 5, "groups__0__most": 3}, "groups", 0, "most"),
]


@pytest.mark.parametrize(("typed", "name", "place", "field"), CONTRADICTIONS)
def test_a_contradiction_stands_beside_its_field(
    typed: dict[str, Any], name: str, place: int, field: str
) -> None:
    base = plain(whole())
    data = opened(base)
    write(data, **typed)
    editor = saved(base, data)
    if editor.is_valid():
        with pytest.raises(Refused) as caught:
            to_document(editor.document)
        editor.add_problems(caught.value.problems)
    assert field in editor.sets[name].forms[place].errors
    assert editor.wrong


def test_an_opened_form_shows_whole_metres_and_the_drills_own_names() -> None:
    editor = DrillEditor(plain(whole()), themes=THEMES)
    grid = row_html(editor.sets["grids"].forms[0])
    assert 'value="25"' in grid
    limit = row_html(editor.sets["limits"].forms[0])
    assert '<option value="A">reds</option>' in limit
    assert "first side" not in limit
