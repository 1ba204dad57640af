"""How much each wish counts, in words."""

from typing import Any

from django import forms

from club.forms.typed import version_field
from sessions.choices import HowMuch
from sessions.queries.proposing import proposal_weights


class WeightsForm(forms.Form):
    """One choice of words for each wish."""

    version = version_field()

    def __init__(self, data: Any = None) -> None:
        row = proposal_weights()
        super().__init__(data, initial={**row.words, "version": row.version})
        for (label, meant, _counts), name in zip(row.said, row.words, strict=True):
            self.fields[name] = forms.ChoiceField(label=label, choices=HowMuch.choices, help_text=meant)
