"""Forms of training: what a coach types, with an error beside each field in a coach's words."""

from sessions.forms.fields import add_problems, seconds_text
from sessions.forms.frame import FrameForm, MoveForm, NewSessionForm, WhyForm, frame_initial, side_by_side
from sessions.forms.ledger import EntryForm
from sessions.forms.part_order import beside_of, reordered, waits, with_drill, with_part
from sessions.forms.parts import PartRows, drill_ids, rows_of, rows_typed
from sessions.forms.slots import SlotForm
from sessions.forms.together import ApartForm, TogetherForm
from sessions.forms.turn_out import EverybodyForm, TurnOutForm

__all__ = [
    "ApartForm",
    "EntryForm",
    "EverybodyForm",
    "FrameForm",
    "MoveForm",
    "NewSessionForm",
    "PartRows",
    "SlotForm",
    "TogetherForm",
    "TurnOutForm",
    "WhyForm",
    "add_problems",
    "beside_of",
    "drill_ids",
    "frame_initial",
    "reordered",
    "rows_of",
    "rows_typed",
    "seconds_text",
    "side_by_side",
    "waits",
    "with_drill",
    "with_part",
]
