"""A session's plan and section for pages that read its parts as plain rows (`rows.bring_parts`): Today."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language, ngettext
from django.utils.translation import gettext as _

from club.caches import MIB, remembered
from drills.drawing.picture import scene_of
from drills.drawing.svg import DrawingOptions, render
from drills.game.document import decode
from drills.game.evening import PlayerAges
from sessions import bridge
from sessions.pages.tiles import small_plan
from sessions.pictures.section import plan_and_section
from sessions.pictures.section_sheet import Size
from sessions.queries.counted import factor_at_hand
from sessions.queries.evening import ages_of
from sessions.queries.guides import goes_by_load

if TYPE_CHECKING:
    from sessions.models import TrainingSession


def tape_of(session: TrainingSession, size: Size) -> SafeString:
    """The plans of its parts on the tape, the section below. No query."""
    budget = session.age_group.session_load_au if goes_by_load(session.age_group) else None
    firsts = [next(iter(part.played_rows), None) for part in session.parts.all()]  # type: ignore[attr-defined]
    ages = ages_of(session.age_group)
    drawn = plan_and_section(
        small_plan(session),
        plans=[_plan(each, ages) if each else "" for each in firsts],
        budget_au=float(budget) if budget else None,
        k=factor_at_hand(session),
        size=size,
        name=str(session),
        prefix=f"{size[0]}{str(session.public_id)[:8]}-",
        translate=_,
        plural=ngettext,
    )
    return mark_safe(drawn)


def _key(row: Mapping[str, Any], ages: PlayerAges | None) -> tuple[Any, ...]:
    """A pinned revision never changes: its digest stands for its document."""
    kept = json.dumps([row["setup"], row["evening"]], sort_keys=True)
    return row["sha256"], row["key"], kept, ages, get_language()


@remembered(most_bytes=2 * MIB, key=_key)
def _plan(row: Mapping[str, Any], ages: PlayerAges | None) -> str:
    """The small plan of a station's first grid as it is set up, else as its drill is written, with goals of these ages."""
    kept = bridge.kept_of(row["setup"], row["evening"]).setup
    run = bridge.as_kept(decode(row["document"]), row["key"], row["setup"] if kept else None, players=ages)
    options = DrawingOptions(thumbnail=True, legend=False, hatched="in print", prefix="t", translate=_)
    return render(scene_of(run), options=options)
