"""Every change that a drill's document can undergo, found from the types: a field added later is among them by itself."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import msgspec
from msgspec import inspect

from drills.game.document import DrillDocument
from tests.drills.samples import WHOLE

Plain = dict[str, Any]
Path = tuple[str | int, ...]
TEXTS = ("Lantern hour", "5v5+2", "the far one")
FIXED = {("schema_version",), ("scene", "scene_version")}  # one value only

# Where the types' own examples would name nothing: what stands in the document below.
_SCENE: Plain = {
    "length_m": 25,
    "width_m": 20,
    "players": [
        {"key": "A1", "x_m": 5, "y_m": 5, "label": "1", "role": "six", "bib": "red"},
        {"key": "B1", "x_m": 8, "y_m": 5, "side": "B", "zone": "box", "place": "zone"},
        {"key": "N1", "x_m": 0, "y_m": 5, "side": "neutral", "place": "outside", "edge": "left"},
    ],
    "goals": [
        {"key": "in", "edge": "left", "along_m": 10},
        {"key": "loose", "edge": "free", "x_m": 12, "y_m": 9},
    ],
    "cones": [{"key": "cone", "x_m": 3, "y_m": 3, "colour": "white"}],
    "zones": [{"key": "box", "x_m": 7, "y_m": 4, "length_m": 6, "width_m": 5, "title": "Box"}],
    "gates": [{"key": "gate", "x_m": 12, "y_m": 12}],
    "balls": [{"key": "ball", "at": "A1"}, {"key": "spare", "x_m": 1, "y_m": 1, "count": 6}],
    "coach": {"x_m": -1, "y_m": 3},
    "steps": [
        {
            "key": "s1", "title": "Off they go", "start_s": 0, "end_s": 4,
            "moves": [
                {"kind": "run", "who": "B1", "to_x_m": 9, "to_y_m": 9, "start_s": 0, "end_s": 2},
                {"kind": "run_with_ball", "who": "A1", "ball": "ball", "to_x_m": 6, "to_y_m": 8, "start_s": 0, "end_s": 2},
                {"kind": "ball", "ball": "ball", "to": "N1", "start_s": 2, "end_s": 3},
                {"kind": "ball", "ball": "ball", "to_x_m": 2, "to_y_m": 2, "start_s": 3, "end_s": 4, "high": True},
            ],
        },
        {"key": "s2", "start_s": 4, "end_s": 6},
    ],
    "claims": [{"kind": "lane is open", "who": "A1", "to": "N1", "step": "s1"}, {"kind": "passes", "number": 1}],
}  # fmt: skip
_RUNGS: tuple[tuple[Plain, ...], ...] = (
    (
        {"type": "set_grid", "length_m": 30, "width_m": 24},
        {"type": "set_format", "format": "5v5+2"},
        {"type": "put_group", "group": {"key": "N", "name": "yellows", "plays_for": "whoever has the ball", "place": "queue", "least": 2, "most": 4}},
        {"type": "put_goal", "goal": {"key": "west-goal", "edge": "right"}},
        {"type": "move_goal", "key": "east-goal", "edge": "top"},
        {"type": "put_zone", "zone": {"key": "mid", "name": "the middle", "left": 0.3, "bottom": 0, "right": 0.7, "top": 1}},
        {"type": "put_gate", "gate": {"key": "g2", "x": 0.2, "y": 0.2}},
        {"type": "remove_gate", "key": "g0"},
        {"type": "set_scene", "scene": _SCENE},
    ),
    (
        {"type": "put_phase", "phase": {"key": "rush", "name": "the rush", "format": "3v3"}},
        {"type": "set_kit", "kit": [{"kind": "poles", "count": 4}]},
        {"type": "set_balls", "balls": {"number": 2, "supply": "left"}},
        {"type": "set_start", "start": {"trigger": "a throw"}},
        {"type": "set_restarts", "restarts": [{"after": "goal", "who": "B", "how": "throw in"}]},
        {"type": "set_scoring", "scoring": [{"what": "a gate", "points": 2}]},
        {"type": "set_ends", "ends": {"kind": "first to", "number": 3}},
        {"type": "set_on_winning", "on_winning": {"task": "shoot"}},
        {"type": "set_queue", "queue": {"work_s": 20, "wait_s": 40, "next": "the next pair"}},
        {"type": "set_direction", "direction": "one way"},
        {"type": "set_heading", "heading": "planned", "headers_per_player": 3},
        {"type": "set_work", "work": {"bouts": 3}},
    ),
    (
        {"type": "move_item", "key": "A1", "x_m": 4, "y_m": 4},
        {"type": "add_condition", "condition": {"type": "free", "key": "more", "text": "No high balls."}},
        {"type": "remove_condition", "key": "own"},
        {"type": "replace_condition", "condition": {"type": "limit", "key": "two", "kind": "touches", "number": 1}},
        {"type": "remove_group", "key": "Z"},
        {"type": "remove_goal", "key": "far"},
        {"type": "remove_zone", "key": "far-zone"},
    ),
)  # fmt: skip
FULL: Plain = {
    **WHOLE,
    "numbers": {"kind": "range", "least": 12, "most": 16},
    "groups": [
        {**WHOLE["groups"][0], "edges": ["left"], "role": "target", "most": 6},
        {**WHOLE["groups"][1], "most": 6},
        {**WHOLE["groups"][2], "least": 2, "most": 4},
        {"key": "Z", "name": "helpers", "plays_for": "nobody", "place": "zone", "zone": "mid", "least": 0},
    ],
    "zones": [*WHOLE["zones"], {"key": "far-zone", "name": "the end", "left": 0.8, "bottom": 0, "right": 1, "top": 1}],
    "goals": [*WHOLE["goals"], {"key": "far", "edge": "top", "keeper": True, "defended_by": "B", "width_m": 3}],
    "gates": [*WHOLE["gates"], {"key": "g0", "x": 0.1, "y": 0.9, "width_m": 3, "across": True}],
    "start": {"trigger": "the coach plays in", "source": "the left", "delays": [{"group": "B", "source": "a cone"}]},
    "queue": {"work_s": 30, "wait_s": 60, "next": "the next two", "cycle": ["serve", "play"]},
    "conditions": [
        *WHOLE["conditions"],
        {"type": "free", "key": "own", "text": "Only on the floor."},
    ],
    "phases": [{**WHOLE["phases"][0], "entries": [{"group": "A", "source": "a cone", "delay_s": 2, "count": 1}]}],
    "variations": [
        *WHOLE["variations"],
        *(
            {"key": f"rung{n}", "title": f"Rung {n}", "rung": "harder", "why": "to see", "changes": list(changes)}
            for n, changes in enumerate(_RUNGS)
        ),
    ],
    "challenges": [{"text": "Only with the left"}, {"text": "A touch more", "harder": False}],
    "faults": [{"fault": "They bunch", "fix": "Wider"}],
    "praise": "A look before it comes",
    "safety": ["Balls off the grid"],
    "stops": ["between bouts", "freeze"],
    "scene": _SCENE,
}  # fmt: skip


@dataclass(frozen=True)
class Site:
    """A place in the document, and what may stand there instead of what does."""

    path: Path
    values: tuple[Any, ...]

    def __str__(self) -> str:
        return ".".join(map(str, self.path))

    @property
    def field(self) -> str:
        return str(self.path[0])

    def changed(self, document: Plain, value: Any) -> Plain:
        """The document with another value at this place."""
        made: Plain = _put(document, self.path, value)
        return made


def _put(holder: Any, path: Path, value: Any) -> Any:
    if not path:
        return value
    if isinstance(holder, list):
        place = path[0]
        return [_put(each, path[1:], value) if at == place else each for at, each in enumerate(holder)]
    return {**holder, path[0]: _put(holder.get(path[0]), path[1:], value)}


def whole_of(value: Any) -> Any:
    """A typed value as plain data with nothing left out."""
    if isinstance(value, msgspec.Struct):
        config = value.__struct_config__
        tag = {config.tag_field: config.tag} if config.tag else {}
        return tag | {name: whole_of(getattr(value, name)) for name in value.__struct_fields__}
    if isinstance(value, tuple):
        return [whole_of(each) for each in value]
    return msgspec.to_builtins(value)


def sites(document: DrillDocument) -> list[Site]:
    """Every place of a document, from the whole to the single value."""
    found = _sites(inspect.type_info(DrillDocument), document, (), _keys(document))
    return [
        each for each in found if each.path and each.path not in FIXED and "scene_version" not in each.path
    ]


def _keys(value: Any) -> tuple[str, ...]:
    """All keys that a document names its pieces with, and one that it does not."""
    return (*dict.fromkeys(_found_keys(value)), "another")


def _found_keys(value: Any) -> Iterator[str]:
    if isinstance(value, msgspec.Struct):
        if hasattr(value, "key"):
            yield value.key
        for name in value.__struct_fields__:
            yield from _found_keys(getattr(value, name))
    elif isinstance(value, tuple):
        for each in value:
            yield from _found_keys(each)


def _sites(info: Any, value: Any, path: Path, keys: tuple[str, ...]) -> Iterator[Site]:
    info = _bare(info)
    present = whole_of(value)
    yield Site(path, tuple(each for each in _values(info, present, keys) if each != present))
    if isinstance(info, inspect.UnionType):
        info = next((each for each in info.types if _is_of(each, value)), info)
    if isinstance(info, inspect.StructType):
        for each in info.fields:
            yield from _sites(each.type, getattr(value, each.name), (*path, each.encode_name), keys)
    if isinstance(info, inspect.VarTupleType):
        for place, each in enumerate(value):
            yield from _sites(info.item_type, each, (*path, place), keys)


def _bare(info: Any) -> Any:
    return _bare(info.type) if isinstance(info, inspect.Metadata) else info


def _is_of(info: Any, value: Any) -> bool:
    if isinstance(info, inspect.StructType):
        return type(value) is info.cls
    return (
        value is not None and not isinstance(info, inspect.NoneType) and not isinstance(value, msgspec.Struct)
    )


def _values(info: Any, present: Any, keys: tuple[str, ...]) -> Iterator[Any]:
    """What may stand in a place of this type; a piece keeps the key of the one whose place it takes."""
    info = _bare(info)
    if isinstance(info, inspect.UnionType):
        for each in info.types:
            yield from _values(each, present, keys)
    elif isinstance(info, inspect.NoneType):
        yield None
    elif isinstance(info, inspect.BoolType):
        yield from (True, False)
    elif isinstance(info, inspect.EnumType):
        yield from (each.value for each in info.cls)
    elif isinstance(info, inspect.LiteralType):
        yield from info.values
    elif isinstance(info, inspect.IntType | inspect.FloatType):
        yield from _numbers(info, present)
    elif isinstance(info, inspect.StrType):
        yield from keys if info.pattern else (*TEXTS, "w" * (info.max_length or 50))
    elif isinstance(info, inspect.VarTupleType):
        yield from _lists(info, present or [], keys)
    elif isinstance(info, inspect.StructType):
        yield _piece(info, present, keys)
    else:
        raise TypeError(f"no values are known for {info}")


def _numbers(info: Any, present: Any) -> Iterator[Any]:
    least = info.ge if info.ge is not None else info.gt
    beyond = 0.5 if info.gt is not None else 0
    step = 1 if isinstance(info, inspect.IntType) else 0.25
    if isinstance(present, int | float) and not isinstance(present, bool):
        yield from (each for each in (present + step, present - step) if least <= each <= info.le)
    yield from (least + beyond, info.le)


def _lists(info: Any, present: list[Any], keys: tuple[str, ...]) -> Iterator[Any]:
    item = next((each for each in _values(info.item_type, None, keys) if each not in present), None)
    if item is not None and (info.max_length is None or len(present) < info.max_length):
        yield [*present, _renamed(item, "another")]
    yield [*reversed(present)]
    for place in range(len(present)):
        yield [*present[:place], *present[place + 1 :]]
    yield []


def _renamed(item: Any, key: str) -> Any:
    return {**item, "key": key} if isinstance(item, dict) and "key" in item else item


def _piece(info: Any, present: Any, keys: tuple[str, ...]) -> Plain:
    """A piece with what it must have, taking over what the piece before had of the same name."""
    had = present if isinstance(present, dict) else {}
    made: Plain = {info.tag_field: info.tag} if info.tag else {}
    for each in info.fields:
        if each.name == "key" and "key" in had:
            made["key"] = had["key"]
        elif each.required:
            made[each.encode_name] = next(_values(each.type, None, keys))
    return made
