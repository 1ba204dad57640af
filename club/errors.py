"""What an action may answer instead of doing it. Pages and API turn these into words beside the field."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class FieldProblem:
    """One thing wrong: `field` is the name of the input, or empty for the whole; `text` is for a coach."""

    field: str
    text: str


class Refused(ValueError):
    """Input that can't be taken. Nothing was saved."""

    def __init__(self, problems: Iterable[FieldProblem] | str, field: str = "") -> None:
        found = [FieldProblem(field, problems)] if isinstance(problems, str) else list(problems)
        super().__init__("; ".join(each.text for each in found))
        self.problems = found

    def by_field(self) -> dict[str, list[str]]:
        """Texts by field, as a form or the API wants them."""
        fields: dict[str, list[str]] = {}
        for each in self.problems:
            fields.setdefault(each.field, []).append(each.text)
        return fields


class Stale(Exception):
    """Somebody else saved in the meantime: `theirs` is saved now, `base` is what the writer started from."""

    def __init__(
        self, *, theirs: Any, base: Any = None, version: int, mine: Mapping[str, Any] | None = None
    ) -> None:
        super().__init__("changed by somebody else in the meantime")
        self.theirs = theirs
        self.base = base
        self.version = version
        self.mine = mine


class AskFirst(Refused):
    """Can be done, but takes something that is somebody else's: done when asked again with `token` as a yes."""

    def __init__(self, text: str, token: str, field: str = "confirm") -> None:
        super().__init__(text, field)
        self.token = token


class Clash(Refused):
    """Taken already, by a booking or by somebody who saved a moment before. `other` names the other one where it has a name."""

    def __init__(self, text: str, other: str = "", field: str = "") -> None:
        super().__init__(text, field)
        self.other = other
