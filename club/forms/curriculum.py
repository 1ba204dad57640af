"""Blocks of a season, and the share of each theme in them."""

from collections.abc import Iterable, Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from club.actions import share_field
from club.choices import MomentOfGame
from club.forms.base import VersionedForm
from club.forms.club import day_field
from club.limits import NAME


class BlockForm(VersionedForm):
    name = forms.CharField(
        label=_("Block"), max_length=NAME, help_text=_("As you say it: Autumn, first half.")
    )
    first_day = day_field(_("First day"))
    last_day = day_field(
        _("Last day"), help_text=_("It still belongs to the block; a holiday may lie between two.")
    )
    together = (("first_day", "last_day"),)


class TargetsForm(VersionedForm):
    """A field for each theme, under the moment of the game it belongs to."""

    def __init__(self, data: Any = None, *, themes: Iterable[Any], **more: Any) -> None:
        super().__init__(data, **more)
        self.keys = [each.key for each in themes]
        self.headings = {}
        by_moment: dict[str, list[str]] = {}
        for theme in sorted(themes, key=lambda each: (MomentOfGame.values.index(each.moment), each.position)):
            name = share_field(theme.key)
            self.fields[name] = forms.IntegerField(
                label=theme.title, min_value=0, max_value=100, required=False
            )
            if theme.moment not in by_moment:
                self.headings = {**self.headings, name: theme.get_moment_display()}
            by_moment.setdefault(theme.moment, []).append(name)
        self.together = tuple(tuple(names) for names in by_moment.values())

    def values(self) -> dict[str, Any]:
        shares = {key: self.cleaned_data[share_field(key)] for key in self.keys}
        return {"version": self.cleaned_data["version"], "shares": shares}


def fields_of(shares: Mapping[str, int]) -> dict[str, int]:
    """What is meant for each theme, by its field."""
    return {share_field(key): share for key, share in shares.items()}
