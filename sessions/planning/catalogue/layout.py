"""Grids laid on the ground: too big, too near to a fence, no room."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "layout_fence_wide": _("Too close to the fence: make it {wide_m} m wide."),
        "layout_fence_long": _("Too close to the fence: make it {long_m} m long."),
        "layout_fence_both": _("Too close to the fence: make it {long_m} × {wide_m} m."),
        "layout_space_wide": _("Too big for your space: make it {wide_m} m wide."),
        "layout_space_long": _("Too big for your space: make it {long_m} m long."),
        "layout_space_both": _("Too big for your space: make it {long_m} × {wide_m} m."),
        "layout_no_room": _("Your space is too small for a grid: book more of it."),
        "layout_too_many": _(
            "Room for {room_for} of {grids} grids: make them smaller, or use fewer at a time."
        ),
        "layout_near_fence": _("The fence is {metres} m away: slow down at the edge."),
        "layout_behind_goal": CountedWording(
            "goals",
            *ngettext(
                "Not enough room behind {goals} goal: use the fence or a net, keep everyone clear.",
                "Not enough room behind {goals} goals: use the fence or a net, keep everyone clear.",
            ),
        ),
        "layout_no_place": _("No pitch is booked, so nothing can be laid out."),
        "layout_not_finished": _(
            "No layout found in time for these grids: make them smaller, or use fewer at a time."
        ),
    }
)
