"""The form: a whole drill written without a word of JSON; nothing that it can't show is lost; errors beside the field."""

from pathlib import Path
from typing import Any

import pytest

from club.errors import Refused
from drills.forms import DrillEditor
from drills.forms.main import MainForm
from drills.forms.order import moved
from drills.forms.variations import VariationRow
from drills.game.document import DrillDocument, decode
from drills.game.document.choices import Heading, Rung
from drills.game.document.codec import digest
from drills.pages.easier_harder import ladder_of
from drills.validators import to_document
from tests.drills.samples import WHOLE, whole
from tests.drills.typed import THEMES, gates, opened, plain, saved, write

DEMO = sorted((Path(__file__).parents[2] / "bibrack" / "demo" / "drills").glob("*.json"))


def test_a_row_is_dragged_over_several_with_all_that_was_typed() -> None:
    typed = {
        "rungs-TOTAL_FORMS": "3",
        "rungs-0-key": "a",
        "rungs-1-key": "b",
        "rungs-2-key": "c",
        "title": "T",
    }

    def keys(move: str) -> str:
        data = moved(typed, move)
        assert data["title"] == "T"
        return "".join(data[f"rungs-{place}-key"] for place in range(3))

    moves = (
        "rungs-0-to-2",
        "rungs-2-to-0",
        "rungs-1-up",
        "rungs-1-down",
        "rungs-2-down",
        "rungs-0-to-3",
        "rungs-3-to-0",
    )
    assert [keys(move) for move in moves] == ["bca", "cab", "bac", "acb", "abc", "abc", "abc"]


def test_the_demo_is_there() -> None:
    assert len(DEMO) > 20


@pytest.mark.parametrize("path", DEMO, ids=lambda path: path.stem)
def test_opening_and_saving_changes_nothing(path: Path) -> None:
    document = decode(path.read_bytes())
    editor = saved(plain(document), opened(plain(document)))
    assert editor.is_valid()
    assert decode(editor.document) == document


def test_a_game_is_written_from_nothing() -> None:
    editor = saved(None, gates())
    assert editor.is_valid()
    document = to_document(editor.document)
    assert [each.key for each in document.groups] == ["A", "B", "N"]
    assert [(each.length_m, each.purpose) for each in document.grids] == [
        (25, "one pass away"),
        (35, "a long carry"),
    ]
    limit, opens = document.conditions
    assert (limit.scope.group, limit.number) == ("N", 2)  # type: ignore[union-attr]
    assert opens.then[0].goals == ("left-goal",)  # type: ignore[union-attr]
    assert [[change.__struct_config__.tag for change in each.changes] for each in document.variations] == [
        ["replace_condition"], ["add_condition"], ["set_grid"],
    ]  # fmt: skip
    assert document.variations[0].changes[0].condition.number == 1  # type: ignore[union-attr]
    assert (len(document.questions), document.say_this[1]) == (5, "The yellows help.")
    assert not document.goals[0].open_at_start


def test_another_number_of_passes_changes_the_condition_that_counts_them() -> None:
    data = gates()
    write(data, variations__0__kind_0="passes", variations__0__value_0=9, variations__0__who_0="")
    uncounted = saved(None, data)
    assert not uncounted.is_valid()
    assert "value_0" in uncounted.sets["variations"].forms[0].errors
    write(data, whens__0__when="passes", whens__0__when_number=5, whens__0__when_group="")
    editor = saved(None, data)
    assert editor.is_valid()
    (change,) = to_document(editor.document).variations[0].changes
    assert change.condition.when.number == 9  # type: ignore[union-attr]


def test_what_the_form_can_not_show_is_kept() -> None:
    base = plain(whole())
    base["scene"] = {"length_m": 25, "width_m": 20, "players": [{"key": "a1", "x_m": 5, "y_m": 5}]}
    base["goals"][0]["width_m"] = 2.5
    base = plain(decode(base))
    data = opened(base)
    data["title"] = "Renamed"
    editor = saved(base, data)
    assert editor.is_valid()
    after = decode(editor.document)
    assert plain(after) == {**base, "title": "Renamed"}
    assert after.scene is not None
    assert decode(editor.document).goals[0].width_m == 2.5


def test_what_a_select_did_not_offer_is_offered_where_a_drill_has_it() -> None:
    lifted = [{"kind": "limit lifted", "limit": "own"}]
    own = {"type": "free", "key": "own", "text": "Only on the floor."}
    when = {"type": "when", "key": "call", "when": {"kind": "call"}, "then": lifted}
    groups = [{**WHOLE["groups"][0], "bib": "teal"}, *WHOLE["groups"][1:]]
    base = plain(whole(groups=groups, conditions=[*WHOLE["conditions"], own, when]))
    form = DrillEditor(base, themes=THEMES)
    offered = [dict(row.fields[name].choices) for row, name in (  # type: ignore[attr-defined]
        (form.sets["groups"].forms[0], "bib"), (form.sets["whens"].forms[1], "then_limit"),
    )]  # fmt: skip
    assert ["teal" in offered[0], "own" in offered[1]] == [True, True]


def test_rows_are_taken_away_and_conditions_end_in_a_variation() -> None:
    base = plain(whole())
    data = opened(base)
    data["grids-1-DELETE"] = "on"
    write(data, variations__1__kind_1="drop:two")
    editor = saved(base, data)
    assert editor.is_valid()
    document = to_document(editor.document)
    assert [each.key for each in document.grids] == ["usual"]
    assert [each.__struct_config__.tag for each in document.variations[1].changes] == [
        "set_grid",
        "remove_condition",
    ]


@pytest.mark.parametrize(
    ("name", "value", "where"),
    [
        ("title", "", ("main", "title")),
        ("grids-0-length_m", "long", ("grids", "length_m")),
        ("grids-0-length_m", "0", ("grids", "length_m")),
        ("grids-0-purpose", "", ("grids", "purpose")),
        ("questions-0-listen_for", "", ("questions", "listen_for")),
        ("variations-2-value_0", "big", ("variations", "value_0")),
        ("variations-0-value_0", "many", ("variations", "value_0")),
        ("variations-0-kind_0", "", ("variations", "kind_0")),
        ("minutes", "abc", ("main", "minutes")),
        ("say_this", "a\nb\nc\nd", ("main", "say_this")),
        ("activity", "jogging", ("main", "activity")),
    ],
)
def test_an_error_stands_beside_its_field_and_nothing_typed_is_lost(
    name: str, value: str, where: tuple[str, str]
) -> None:
    data = gates()
    data[name] = value
    editor = saved(None, data)
    assert not editor.is_valid()
    part, field = where
    rows = [editor.main] if part == "main" else editor.sets[part].forms
    assert [field in row.errors for row in rows].count(True) == 1
    assert editor.main["purpose"].value() == "Keep it, then go."
    assert editor.sets["questions"].forms[4]["ask"].value() == "Who?"


def test_contradictions_come_back_beside_their_row() -> None:
    data = gates()
    data["format"] = "4v"
    data["phases-0-format"] = "9v9"
    data["limits-0-group"] = "C"
    editor = saved(None, data)
    assert editor.is_valid()
    with pytest.raises(Refused) as caught:
        to_document(editor.document)
    editor.add_problems(caught.value.problems)
    assert "format" in editor.main.errors
    assert editor.wrong_in("limits")
    assert not editor.wrong_in("questions")


def test_one_more_row_keeps_what_was_typed_and_says_nothing_of_errors() -> None:
    data = gates()
    data["title"] = ""
    before = len(saved(None, data).sets["kit"].forms)
    editor = DrillEditor(None, data, themes=THEMES, grow="kit")
    assert len(editor.sets["kit"].forms) == before + 1
    assert not editor.wrong
    assert editor.main["format"].value() == "5v5+2in"


def test_a_drill_without_a_grid_is_asked_for_one() -> None:
    data = opened()
    write(data, title="x", activity="rondo", moment="in possession", purpose="y", format="4v1")
    editor = saved(None, data)
    assert not editor.is_valid()
    assert "length_m" in editor.sets["grids"].forms[0].errors


def test_an_emptied_part_is_gone() -> None:
    base = plain(whole())
    data = opened(base)
    data["winning_task"] = data["winning_within"] = ""
    editor = saved(base, data)
    assert editor.is_valid()
    assert "on_winning" not in editor.document
    assert WHOLE["on_winning"]


def test_zones_and_gates_are_named_parts_or_metres() -> None:
    data = gates()
    data["zones-TOTAL_FORMS"] = "3"
    write(data, zones__0__name="the middle", zones__0__part="middle third")
    write(data, zones__1__name="the ends", zones__1__part="both ends")
    write(data, zones__2__name="the box", zones__2__part="metres")
    for side, metres in {"left": 0, "bottom": 5, "right": 10, "top": 15}.items():
        data[f"zones-2-{side}_m"] = str(metres)
    data["gates-TOTAL_FORMS"] = "2"
    write(data, gates__0__spot="middle", gates__0__way="across", gates__1__spot="metres")
    write(data, gates__1__x_m=5, gates__1__y_m=10, gates__1__width_m=3)
    editor = saved(None, data)
    assert editor.is_valid()
    document = to_document(editor.document)
    assert [each.name for each in document.zones] == [
        "the middle",
        "the ends, left",
        "the ends, right",
        "the box",
    ]
    box = document.zones[3]  # 10 × 10 m of 25 × 20 m, from 5 m above the bottom
    assert (box.left, box.bottom, box.right, box.top) == (0, 0.25, 0.4, 0.75)
    assert [(each.x, each.y, each.width_m, each.across) for each in document.gates] == [
        (0.5, 0.5, 2.0, True),
        (0.2, 0.5, 3.0, False),
    ]
    again = saved(editor.document, opened(editor.document))
    assert again.is_valid()
    assert to_document(again.document) == document


@pytest.mark.parametrize(
    ("fields", "wrong"),
    [
        ({"zones-0-name": "a", "zones-0-part": "metres"}, "left_m"),
        ({"zones-0-name": "a"}, "part"),
        ({"zones-0-part": "left half"}, "name"),
        ({"gates-0-spot": "metres"}, "x_m"),
    ],
)
def test_half_a_zone_is_asked_for_the_rest(fields: dict[str, str], wrong: str) -> None:
    data = gates()
    for name, value in fields.items():
        data[name] = value
    editor = saved(None, data)
    assert not editor.is_valid()
    rows = [*editor.sets["zones"].forms, *editor.sets["gates"].forms]
    assert [wrong in row.errors for row in rows].count(True) == 1


def test_a_zone_beyond_the_grid_is_refused() -> None:
    data = gates()
    write(data, gates__0__spot="metres", gates__0__x_m=60, gates__0__y_m=10)
    editor = saved(None, data)
    assert editor.is_valid()
    with pytest.raises(Refused) as caught:
        to_document(editor.document)
    assert caught.value.problems[0].field == "gates[0].x"


def test_a_rung_and_heading_are_called_the_same_where_they_are_chosen_and_where_they_are_shown() -> None:
    kinds = {str(value): str(label) for value, label in VariationRow.base_fields["rung"].choices if value}
    for rung in Rung:
        (row,) = (each for each in _ladder(_with(rung)) if each.key)
        assert kinds[row.side] == row.side_word
    headings = {str(value): str(label) for value, label in MainForm.base_fields["heading"].choices if value}
    for heading in Heading:
        changed = _with(Rung.HARDER, {"type": "set_heading", "heading": heading.value})
        (row,) = (each for each in _ladder(changed) if each.key)
        assert [each.text for each in row.changes] == [f"{headings[heading.value].capitalize()}."]


def _ladder(document: DrillDocument) -> list[Any]:
    return ladder_of(document, "", digest(document))


def _with(rung: Rung, change: Any = None) -> DrillDocument:
    """The sample with one variation."""
    change = change or {"type": "set_direction", "direction": "one way"}
    return whole(variations=[{"key": "v", "title": "V", "rung": rung.value, "changes": [change]}])


def group_sizes(editor: DrillEditor, place: int) -> dict[str, int]:
    """The sizes of the groups that a variation changes."""
    changes = editor.document["variations"][place]["changes"]
    return {each["group"]["key"]: each["group"]["least"] for each in changes if each["type"] == "put_group"}


def test_groups_follow_the_format_that_a_variation_is_given() -> None:
    data = gates()
    write(data, variations__2__kind_0="format", variations__2__value_0="6v5+2in")
    editor = saved(None, data)
    assert editor.is_valid()
    document = to_document(editor.document)
    assert group_sizes(editor, 2) == {"A": 6}
    again = opened(plain(document))
    untouched = saved(plain(document), again)
    assert untouched.is_valid()
    assert decode(untouched.document) == document
    write(again, variations__2__value_0="GK+5v6+2in")
    other = saved(plain(document), again)
    assert other.is_valid()
    to_document(other.document)
    assert group_sizes(other, 2) == {"B": 6, "K": 1}


def test_a_format_that_can_not_be_read_is_said_of_the_variation() -> None:
    data = gates()
    write(data, variations__2__kind_0="format", variations__2__value_0="4v")
    editor = saved(None, data)
    assert editor.is_valid()
    with pytest.raises(Refused, match="write for example 5v5"):
        to_document(editor.document)
