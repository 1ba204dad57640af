"""All writes of the library: verb first, keyword-only, each one transaction, derived rows kept right."""

from drills.actions.derive import ask_to_rederive, rederive_all, rederive_drill, rederive_outdated
from drills.actions.exchange import ImportedRow, import_drills
from drills.actions.favourites import set_favourite
from drills.actions.mine import save_as_mine, undo_save_as_mine
from drills.actions.notes import delete_note, note_after_use
from drills.actions.restoring import restore_revision
from drills.actions.sharing import forget_links, share_drill, take_back_link
from drills.actions.sketches import add_sketch, approve_sketch, remove_sketch
from drills.actions.states import (
    approve_drill,
    retire_drill,
    return_to_draft,
    send_for_review,
    unretire_drill,
)
from drills.actions.videos import ask_for_video, forget_videos, give_up_lost_videos, make_video, stop_video
from drills.actions.write import adapt_drill, create_drill, revise_drill

__all__ = [
    "ImportedRow",
    "adapt_drill",
    "add_sketch",
    "approve_drill",
    "approve_sketch",
    "ask_for_video",
    "ask_to_rederive",
    "create_drill",
    "delete_note",
    "forget_links",
    "forget_videos",
    "give_up_lost_videos",
    "import_drills",
    "make_video",
    "note_after_use",
    "rederive_all",
    "rederive_drill",
    "rederive_outdated",
    "remove_sketch",
    "restore_revision",
    "retire_drill",
    "return_to_draft",
    "revise_drill",
    "save_as_mine",
    "send_for_review",
    "set_favourite",
    "share_drill",
    "stop_video",
    "take_back_link",
    "undo_save_as_mine",
    "unretire_drill",
]
