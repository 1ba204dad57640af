"""The form that a coach writes a drill with, on a phone, without a word of JSON."""

from drills.forms.drafted import Drafted, drafted
from drills.forms.editor import DrillEditor
from drills.forms.together import together

__all__ = ["Drafted", "DrillEditor", "drafted", "together"]
