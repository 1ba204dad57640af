"""Each kind of change, applied; an edit of the base shows wherever a variation does not change that field."""

import json
from typing import Any

import msgspec
import pytest

from drills.game.document import DrillDocument, decode, encode
from drills.game.document.choices import ChangeClass
from drills.game.document.operations import Operation, change_class
from drills.game.variations import CannotApply, apply, find, own_scene, played, with_own_scene
from tests.drills.samples import WHOLE, whole

LIMIT = {"type": "limit", "key": "one", "kind": "touches", "number": 1}
SCENE = {
    "length_m": 25, "width_m": 20,
    "players": [{"key": "a1", "x_m": 5, "y_m": 5, "side": "A", "kind": "player", "place": "inside"}],
}  # fmt: skip

# (change, field it touches, what that field is afterwards)
CHANGES: list[tuple[dict[str, Any], str, Any]] = [
    ({"type": "set_format", "format": "5v5+2"}, "format", "5v5+2"),
    ({"type": "add_condition", "condition": LIMIT}, "conditions", ["two", "lit", "one"]),
    ({"type": "replace_condition", "condition": {**LIMIT, "key": "two"}}, "conditions", ["two", "lit"]),
    ({"type": "remove_condition", "key": "two"}, "conditions", ["lit"]),
    ({"type": "put_group", "group": {**WHOLE["groups"][0], "least": 5}}, "groups", ["A", "B", "N"]),
    ({"type": "remove_group", "key": "N"}, "groups", ["A", "B"]),
    ({"type": "put_goal", "goal": {"key": "third", "edge": "top"}}, "goals", ["west-goal", "east-goal", "third"]),
    ({"type": "remove_goal", "key": "west-goal"}, "goals", ["east-goal"]),
    ({"type": "move_goal", "key": "west-goal", "edge": "top", "along": 0.2}, "goals", ["west-goal", "east-goal"]),
    ({"type": "put_zone", "zone": {**WHOLE["zones"][0], "key": "far"}}, "zones", ["mid", "far"]),
    ({"type": "remove_zone", "key": "mid"}, "zones", []),
    ({"type": "put_gate", "gate": {"key": "g2", "x": 0.1, "y": 0.1}}, "gates", ["g1", "g2"]),
    ({"type": "remove_gate", "key": "g1"}, "gates", []),
    ({"type": "put_phase", "phase": {"key": "calm", "name": "calm", "format": "4v2"}}, "phases", ["rush", "calm"]),
    ({"type": "set_kit", "kit": [{"kind": "poles", "count": 4}]}, "kit", [{"kind": "poles", "count": 4}]),
    ({"type": "set_balls", "balls": {"number": 2}}, "balls", {"number": 2}),
    ({"type": "set_start", "start": {"trigger": "a clap"}}, "start", {"trigger": "a clap"}),
    ({"type": "set_restarts", "restarts": []}, "restarts", []),
    ({"type": "set_scoring", "scoring": [{"what": "ten passes"}]}, "scoring", [{"what": "ten passes"}]),
    ({"type": "set_ends", "ends": {"kind": "first to", "number": 3}}, "ends", {"kind": "first to", "number": 3}),
    ({"type": "set_on_winning", "on_winning": {"task": "shoot"}}, "on_winning", {"task": "shoot"}),
    (
        {"type": "set_queue", "queue": {"work_s": 20, "wait_s": 20, "next": "the next pair"}},
        "queue",
        {"work_s": 20, "wait_s": 20, "next": "the next pair"},
    ),
    ({"type": "set_direction", "direction": "two ways"}, "direction", "two ways"),
    ({"type": "set_heading", "heading": "likely"}, "heading", "likely"),
    ({"type": "set_work", "work": {"bouts": 2}}, "work", {"bouts": 2}),
]  # fmt: skip


def varied(*changes: dict[str, Any], **base: Any) -> DrillDocument:
    variation = {"key": "v", "title": "Varied", "rung": "harder", "changes": list(changes)}
    return played(whole(variations=[variation], **base), "v")


def shown(document: DrillDocument, field: str) -> Any:
    value = json.loads(encode(document)).get(field, [])
    keyed = isinstance(value, list) and value and isinstance(value[0], dict) and "key" in value[0]
    return [each["key"] for each in value] if keyed else value


@pytest.mark.parametrize(("change", "field", "after"), CHANGES, ids=[each[0]["type"] for each in CHANGES])
def test_a_change_is_applied_and_nothing_else_differs(change: dict, field: str, after: Any) -> None:
    document = varied(change)
    assert shown(document, field) == after
    base = whole(variations=[])
    others = set(base.__struct_fields__) - {field, "variations", "scene"}
    assert [name for name in others if getattr(document, name) != getattr(base, name)] == []


def test_every_operation_is_tried_above() -> None:
    tags = {each.__struct_config__.tag for each in Operation.__args__}  # type: ignore[attr-defined]
    tried = {each[0]["type"] for each in CHANGES} | {"set_grid", "move_item", "set_scene"}
    assert tried == tags


def test_another_grid_changes_the_first_and_drops_a_drawing_to_the_old_size() -> None:
    document = varied({"type": "set_grid", "length_m": 30, "width_m": 22}, scene=SCENE)
    assert (document.grids[0].length_m, document.grids[0].width_m) == (30, 22)
    assert document.grids[0].purpose == "the lantern is one pass away"
    assert document.grids[1] == whole().grids[1]
    assert document.scene is None


def test_an_item_of_the_drawing_is_moved() -> None:
    document = varied({"type": "move_item", "key": "a1", "x_m": 9, "y_m": 8}, scene=SCENE)
    assert document.scene is not None
    assert (document.scene.players[0].x_m, document.scene.players[0].y_m) == (9, 8)


def test_a_rung_has_a_drawing_of_its_own_whatever_else_changes_and_lets_go_of_it() -> None:
    grid = {"type": "set_grid", "length_m": 30, "width_m": 22}
    own = {**SCENE, "length_m": 30, "width_m": 22}
    document = varied({"type": "set_scene", "scene": own}, grid, scene=SCENE)
    assert (document.grids[0].length_m, document.scene.length_m) == (30, 30)
    base = whole(scene=SCENE)
    drawn = with_own_scene(base, "wide", document.scene)
    assert (own_scene(base, "wide"), own_scene(drawn, "wide"), own_scene(drawn, "")) == (
        None,
        document.scene,
        base.scene,
    )
    assert with_own_scene(drawn, "wide", None) == base


def test_an_own_effort_counts_in_its_rung_only() -> None:
    assert played(whole(), "wide").work.effort == 4
    assert whole().work.effort == 5


@pytest.mark.parametrize(
    ("change", "missing"),
    [
        ({"type": "remove_condition", "key": "gone"}, "gone"),
        ({"type": "replace_condition", "condition": {**LIMIT, "key": "gone"}}, "gone"),
        ({"type": "add_condition", "condition": {**LIMIT, "key": "two"}}, "two"),
        ({"type": "remove_group", "key": "gone"}, "gone"),
        ({"type": "remove_goal", "key": "gone"}, "gone"),
        ({"type": "move_goal", "key": "gone", "edge": "top"}, "gone"),
        ({"type": "remove_zone", "key": "gone"}, "gone"),
        ({"type": "remove_gate", "key": "gone"}, "gone"),
        ({"type": "move_item", "key": "gone", "x_m": 1, "y_m": 1}, "gone"),
    ],
)
def test_a_change_that_can_not_be_applied_names_the_variation_and_the_thing(
    change: dict, missing: str
) -> None:
    with pytest.raises(CannotApply) as caught:
        varied(change)
    assert (caught.value.variation, caught.value.key) == ("Varied", missing)
    assert "Varied" in str(caught.value)


EDITS: dict[str, Any] = {
    "title": "Edited", "purpose": "Edited.", "activity": "match", "moment": "losing it", "themes": ["press"],
    "under_from": 9, "under_to": 19, "format": "4v4+3", "numbers": {"kind": "anyone"}, "direction": "one way",
    "groups": WHOLE["groups"][:2], "adults": 2, "grids": [{**WHOLE["grids"][0], "purpose": "edited"}],
    "zones": [], "gates": [], "goals": WHOLE["goals"][:1], "balls": {"number": 3}, "kit": [], "indoors": "no",
    "setup_minutes": 9, "shot_towards": "the fence", "start": {"trigger": "edited"},
    "restarts": [{"after": "goal", "who": "A", "how": "play on"}], "on_winning": {"task": "edited"},
    "scoring": [{"what": "edited"}], "ends": {"kind": "first to", "number": 2},
    "queue": {"work_s": 9, "wait_s": 9, "next": "edited"}, "conditions": WHOLE["conditions"][1:],
    "phases": [{"key": "rush", "name": "edited", "format": "4v4"}], "work": {"minutes": 33}, "heading": "likely",
    "headers_per_player": 3, "challenges": [{"text": "edited"}], "say_this": ["Edited."],
    "points": [{"role": "B", "looks_like": "Edited."}], "faults": [{"fault": "a", "fix": "b"}],
    "questions": [{**WHOLE["questions"][0], "ask": "Edited?"}], "praise": "Edited.", "coach_place": "edited",
    "stops": ["freeze"], "safety": ["Edited."], "notes": "Edited.",
}  # fmt: skip
SKIPPED = {"schema_version", "variations", "scene"}


def test_the_edits_cover_every_field() -> None:
    assert set(EDITS) | SKIPPED == set(DrillDocument.__struct_fields__)


@pytest.mark.parametrize("field", sorted(EDITS))
def test_an_edit_of_the_base_shows_in_a_variation_that_does_not_change_the_field(field: str) -> None:
    touches = {"type": "set_heading", "heading": "planned", "headers_per_player": 2}
    if field in ("heading", "headers_per_player"):
        touches = {"type": "set_direction", "direction": "two ways"}
    edited = decode({**WHOLE, "variations": [], field: EDITS[field]})
    assert getattr(varied(touches, **{field: EDITS[field]}), field) == getattr(edited, field)


def test_what_a_variation_changes_is_not_overwritten_by_the_base() -> None:
    assert varied({"type": "set_format", "format": "5v5"}, format="3v3").format == "5v5"


def test_variations_are_found_by_key_and_the_base_by_an_empty_one() -> None:
    document = whole()
    assert find(document, "") is None
    assert find(document, "base") is None
    found = find(document, "eight")
    assert found is not None
    assert found.title == "Eight seconds"
    with pytest.raises(KeyError):
        find(document, "no-such")
    assert apply(document, None) is document


def test_the_class_of_a_change_follows_from_the_operation() -> None:
    changes = [
        {"type": "set_format", "format": "5v5+4"},
        {"type": "set_grid", "length_m": 30, "width_m": 20},
        {"type": "remove_condition", "key": "two"},
        {"type": "set_balls", "balls": {"number": 2}},
    ]
    document = whole(variations=[{"key": "v", "title": "V", "rung": "harder", "changes": changes}])
    assert {change_class(each) for each in document.variations[0].changes} == set(ChangeClass)


def test_applying_leaves_the_base_alone() -> None:
    document = whole()
    before = msgspec.json.encode(document)
    played(document, "eight")
    assert msgspec.json.encode(document) == before
