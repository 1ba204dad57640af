"""How a form meets an action: its values go in, refusals and stale saves come back beside the fields."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from club.errors import Refused, Stale
from club.forms.typed import version_field


@dataclass(frozen=True)
class FieldConflict:
    """A field that two people changed: what this person typed, what is saved now, what both began with."""

    label: str
    mine: Any
    theirs: Any
    before: Any


class ActionForm(forms.Form):
    """A form that is saved by one action."""

    result: Any = None
    together: tuple[tuple[str, ...], ...] = ()  # fields that stand side by side where there is room

    def laid_out(self) -> list[list[forms.BoundField]]:
        """The visible fields in their order, those that stand side by side in one line."""
        lines: list[list[forms.BoundField]] = []
        for field in self.visible_fields():
            group = next((names for names in self.together if field.name in names), None)
            if group and lines and lines[-1][0].name in group:
                lines[-1].append(field)
            else:
                lines.append([field])
        return lines

    def done_by(self, action: Callable[..., Any], **fixed: Any) -> bool:
        """Run the action with what was typed; False where something needs another look. Nothing is half-saved."""
        if not self.is_valid():
            return False
        try:
            self.result = action(**fixed, **self.values())
        except Stale as stale:
            self.meet(stale)
        except Refused as refused:
            self.refuse(refused)
        return self.is_valid()

    def values(self) -> dict[str, Any]:
        """What the action is given, by name."""
        return dict(self.cleaned_data)

    def refuse(self, refused: Refused) -> None:
        """Put the action's words beside the fields they speak of."""
        for field, texts in refused.by_field().items():
            for text in texts:
                self.add_error(field if field in self.fields else None, text)

    def meet(self, stale: Stale) -> None:
        """Somebody saved in between. Nothing typed here speaks of what they saved, so saving again will do."""
        self.add_error(None, _("Somebody else changed this in the meantime. Look again, then save."))


class VersionedForm(ActionForm):
    """A form of something that several people may edit: it carries the version that was shown."""

    version = version_field()
    differences: list[FieldConflict]

    @classmethod
    def of(cls, row: Any, data: Any = None, **more: Any) -> "VersionedForm":
        """The form of a saved row, filled with what was typed where something was."""
        return cls(data, initial={**cls.read(row), "version": row.version}, **more)

    @classmethod
    def read(cls, row: Any) -> dict[str, Any]:
        """The row's values by the form's fields."""
        return {name: getattr(row, name) for name in cls.base_fields if hasattr(row, name)}

    def meet(self, stale: Stale) -> None:
        """Somebody saved before: show what differs, take over what only they changed, and let it be saved again."""
        theirs = self.read(stale.theirs)
        before = self.read(stale.base) if stale.base is not None else theirs
        typed = {name: self.cleaned_data.get(name) for name in theirs if name != "version"}
        data: Any = self.data.copy()
        data[self.add_prefix("version")] = stale.version
        self.differences = []
        for name, mine in typed.items():
            if mine == theirs[name]:
                continue
            if mine == before[name]:
                data[self.add_prefix(name)] = _as_typed(theirs[name])
            label, shown = (
                self.fields[name].label,
                [self._shown(name, v[name]) for v in (typed, theirs, before)],
            )
            self.differences.append(FieldConflict(str(label), *shown))
        self.data = data
        self.add_error(None, _("Somebody else saved this in the meantime. Look at both, then save again."))

    def _shown(self, name: str, value: Any) -> Any:
        if isinstance(value, bool):
            return _("yes") if value else _("no")
        choices = dict(getattr(self.fields[name], "choices", ()))
        return choices.get(value, "" if value is None else value)


def _as_typed(value: Any) -> str:
    if isinstance(value, bool):
        return "on" if value else ""
    return "" if value is None else str(value)
