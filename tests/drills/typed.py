"""The form of a drill as a browser sends it: opened, filled in, saved."""

import json
from typing import Any
from unittest.mock import patch

from django.http import QueryDict

from drills.forms import DrillEditor
from drills.forms.base import as_typed
from drills.forms.editor import SPARE
from drills.game.document import encode

THEMES = [("keep-the-ball", "Keep the ball"), ("press", "Press")]


def posted(editor: DrillEditor) -> QueryDict:
    """What a browser sends for a page that was opened and saved untouched."""
    data = QueryDict(mutable=True)
    forms = [editor.main]
    for formset in editor.sets.values():
        forms += [formset.management_form, *formset.forms]
    for form in forms:
        for field in form:
            value = field.value()
            if isinstance(value, list | tuple):
                data.setlist(field.html_name, [str(each) for each in value])
            elif value is not None and value is not False:
                data[field.html_name] = "on" if value is True else str(as_typed(value))
    return data


def opened(document: Any = None) -> QueryDict:
    """An opened form; a new drill's with so many rows as somebody with three of a kind asks for."""
    with patch.dict(SPARE, dict.fromkeys(("grids", "groups", "restarts", "questions"), 3)):
        return posted(DrillEditor(document, themes=THEMES))


def saved(base: Any, data: QueryDict) -> DrillEditor:
    return DrillEditor(base, data, themes=THEMES)


def plain(document: Any) -> Any:
    return json.loads(encode(document))


def write(data: QueryDict, **fields: Any) -> None:
    for name, value in fields.items():
        data[name.replace("__", "-")] = str(value)


def gates() -> QueryDict:
    """A game of gates from nothing, as a coach types it."""
    data = opened()
    write(
        data, title="Lantern Gates", activity="possession", moment="in possession", purpose="Keep it, then go.",
        format="5v5+2in", say_this="A pass through the lantern opens both goals.\nThe yellows help.",
    )  # fmt: skip
    data.setlist("themes", ["keep-the-ball"])
    for row, (length, width, purpose) in enumerate([(25, 20, "one pass away"), (35, 30, "a long carry")]):
        write(
            data,
            **{
                f"grids__{row}__length_m": length,
                f"grids__{row}__width_m": width,
                f"grids__{row}__purpose": purpose,
            },
        )
    sides = [
        ("reds", "A", "inside"),
        ("blues", "B", "inside"),
        ("yellows", "whoever has the ball", "inside"),
    ]
    for row, (name, side, place) in enumerate(sides):
        write(
            data,
            **{
                f"groups__{row}__name": name,
                f"groups__{row}__least": 2 if name == "yellows" else 5,
                f"groups__{row}__plays_for": side,
                f"groups__{row}__place": place,
            },
        )
    write(
        data, restarts__0__after="side-out", restarts__0__who="the nearest yellow", restarts__0__how="pass in"
    )
    write(data, goals__0__edge="left", goals__0__shut="on")
    write(
        data,
        whens__0__when="regain",
        whens__0__when_group="B",
        whens__0__then="goals open",
        whens__0__goals="left",
    )
    write(data, limits__0__group="N", limits__0__kind="touches", limits__0__number=2)
    write(data, phases__0__name="the rush", phases__0__format="5v5")
    data["variations-TOTAL_FORMS"] = "3"
    rungs = [
        ("One", "harder", "touches", "1", "N"),
        ("Four", "harder", "seconds on the ball", "4", ""),
        ("Calm", "easier", "grid", "36 x 30 m", ""),
    ]
    for row, (title, rung, kind, value, who) in enumerate(rungs):
        write(
            data,
            **{
                f"variations__{row}__title": title,
                f"variations__{row}__rung": rung,
                f"variations__{row}__kind_0": kind,
                f"variations__{row}__value_0": value,
                f"variations__{row}__who_0": who,
            },
        )
    data["questions-TOTAL_FORMS"] = "5"
    for row, moment in enumerate(["before the bout", "between bouts", "on the run", "freeze", "at the end"]):
        write(
            data,
            **{
                f"questions__{row}__role": "reds",
                f"questions__{row}__moment": moment,
                f"questions__{row}__ask": "Who?",
                f"questions__{row}__listen_for": "Me.",
            },
        )
    return data
