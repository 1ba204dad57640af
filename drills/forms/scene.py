"""What the page for drawing sends: JSON with a scene, read with limits and refused in words for a coach."""

import re
from dataclasses import dataclass
from typing import Any

import msgspec
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from club import reading
from club.errors import Refused
from club.limits import VERSION
from drills.game.document.codec import LARGEST_BYTES
from drills.game.scene import MOST_ITEMS, Scene

# What the reader of scenes says, and what a coach reads instead. The value follows in the message.
SAID = (
    (re.compile(r"Expected `(?:float|int)` <= (?P<value>[\d.-]{1,40})"), gettext_lazy("at most {value}")),
    (re.compile(r"Expected `(?:float|int)` >= (?P<value>[\d.-]{1,40})"), gettext_lazy("at least {value}")),
    (
        re.compile(r"Expected `(?:float|int)` > (?P<value>[\d.-]{1,40})"),
        gettext_lazy("must be above {value}"),
    ),
    (
        re.compile(r"Expected `str` of length <= (?P<value>\d{1,20})"),
        gettext_lazy("at most {value} characters"),
    ),
    (
        re.compile(r"Expected `array` of length <= (?P<value>\d{1,20})"),
        gettext_lazy("at most {value} of these"),
    ),
    (re.compile(r"Expected `(?:float|int)[^`]*+`, got"), gettext_lazy("is not a number")),
    (re.compile(r"Number out of range"), gettext_lazy("is not a number that can be used here")),
)


@dataclass(frozen=True)
class Drawn:
    """`scene` None means the generated layout; `version` is the drill's that the drawing began from."""

    scene: Scene | None
    version: int
    step: int | None
    lanes: bool


def read_drawn(raw: bytes) -> Drawn:
    """The drawing in a request's body. Raises Refused with the reason."""
    body = _plain(raw)
    step, version = body.get("step"), body.get("version", 0)
    if isinstance(version, str) or reading.whole(version, 0, VERSION) is None:
        raise Refused(_("is not a version"), "version")
    if step is not None and (isinstance(step, str) or reading.whole(step) is None):
        raise Refused(_("is not a step"), "step")
    data = body.get("scene")
    scene = None if data is None else scene_from(data)
    if step is not None and step > (len(scene.steps) if scene else 0):
        raise Refused(_("There is no such step."), "step")
    return Drawn(scene, version, step, body.get("lanes") is True)


def scene_from(data: Any) -> Scene:
    """Plain data as a scene. Raises Refused with the field and the reason."""
    try:
        return msgspec.convert(data, Scene)
    except msgspec.ValidationError as error:
        text, _at, path = str(error).partition(" - at `$")
        raise Refused(_words(text, path.rstrip("`").lstrip("."), data), f"scene{path.rstrip('`')}") from error


def _plain(raw: bytes) -> dict[str, Any]:
    if len(raw) > LARGEST_BYTES:
        text = _("Too large to be saved: a plan has at most {items} things.").format(items=MOST_ITEMS)
        raise Refused(text, "scene")
    try:
        body = reading.json_value(raw)
    except reading.Unreadable as error:
        raise Refused(_("Not readable: {error}").format(error=error)) from error
    if not isinstance(body, dict):
        raise Refused(_("Not readable: named fields are wanted."))
    odd = reading.unkeepable(body)
    if odd is not None:
        raise Refused(_("That holds a character that cannot be saved."), odd)
    return body


def _words(text: str, path: str, data: Any) -> str:
    """The message with where it is: the thing's own label or key where it can be told."""
    found = next(((said, match) for pattern, said in SAID if (match := pattern.match(text))), None)
    said = str(found[0]).format(**found[1].groupdict()) if found else text
    return f"{_place(path, data)}: {said}" if path else said


def _place(path: str, data: Any) -> str:
    match = re.fullmatch(r"(\w{1,40})\[(\d{1,6})\]\.?(.*+)", path)
    if match is None or not isinstance(data, dict):
        return path
    row = data[match[1]][int(match[2])]
    name = str(row.get("label") or row.get("title") or row.get("key") or "") if isinstance(row, dict) else ""
    return " ".join(each for each in (match[1], name, match[3]) if each)
