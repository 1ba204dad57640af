"""Numbers changed: the first answers for tonight's turn-out, and what takes the place of a part that is set up."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING

from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from drills import queries as drills
from drills.drawing.picture import scene_of
from drills.game.evening import Evening
from drills.game.fit import SetUp
from drills.game.fits import Fits
from drills.game.played import Played, as_played, dressed
from drills.pages import GridLine, grids_told
from drills.queries import StationDrill
from sessions.bridge import evening_kept, setup_as_kept, setup_kept
from sessions.pages.pitch.coaching import Coaching, coaching_of
from sessions.pages.pitch.rungs import RungLadder, ladder, plan_of_grids
from sessions.pages.pitch.tonight import DrillInWords, more_kit, tonight_of
from sessions.queries.evening import ages_of
from sessions.queries.pitch import HEADLINE
from sessions.queries.station import station_view

if TYPE_CHECKING:
    from sessions.models import Station, TrainingSession


@dataclass(frozen=True)
class PitchFit:
    """One answer as the phone shows it; `event` is what its event says when it is taken, as JSON."""

    title: str
    reasons: list[str]
    rotation: str
    grids: tuple[GridLine, ...]
    more: str  # what further grids take beyond the kit of one
    picture: SafeString
    event: str


def station_at(session: TrainingSession, part_key: str, rung: str | None) -> Station | None:
    """The first station of a part, on the rung that it is played on; None where there is none such."""
    part = next((each for each in session.parts.all() if str(each.public_id) == part_key), None)
    station = next(iter(part.stations.all()), None) if part else None
    if station is None or station.revision_id is None:
        return None
    if rung is not None and rung != station.variation_key:
        document = _drill(station).document
        if rung and all(each.key != rung for each in document.variations):
            return None
        if station.planned_key is None:
            station.planned_key = station.variation_key
        station.variation_key = rung  # for this answer; it becomes the station's own when the answer is taken
    return station


def fit_shown(station: Station, found: Fits, evening: Evening) -> list[PitchFit]:
    """The first answers with their plans, nearest to the drill first."""
    drill = _drill(station)
    shown = []
    for number, each in enumerate(found.first):
        run = dressed(drill.document, station.variation_key, each, evening)
        shown.append(
            PitchFit(
                title=title_of(each),
                reasons=[reason.said(_) for reason in each.reasons],
                rotation=each.rotation_said(_),
                grids=grids_told(run),
                more=more_kit(run),
                picture=picture_of(drill, station.variation_key, each, evening, f"f{number}-"),
                event=json.dumps(
                    {
                        **{name: getattr(each, name) for name in HEADLINE},
                        "kept": setup_as_kept(each, drill.document, station.variation_key, evening),
                    }
                ),
            )
        )
    return shown


@dataclass(frozen=True)
class SetupShown:
    """A set-up that was just accepted: its teams and turns, its words, and the ladder drawn with tonight's numbers."""

    set_up: DrillInWords
    coaching: Coaching
    ladder: RungLadder

    @property
    def plan_numbers(self) -> str:
        """Which plan each rung shows, as the phone reads it."""
        return json.dumps([each.plan for each in self.ladder.rungs])


def setup_shown(session: TrainingSession, station: Station, rungs_of: str, prefix: str = "s-") -> SetupShown:
    """What takes the place of plans, teams and words on the page. `rungs_of` is the rung that the page's ladder goes by;
    `prefix` keeps the names in its pictures apart from those of other parts.
    """
    view = station_view(session, station)
    drawn = ladder(
        _drill(station),
        station.variation_key,
        kept=setup_kept(station),
        evening=evening_kept(station),
        prefix=prefix,
        ages=ages_of(session.age_group),
        middle=rungs_of,
    )
    return SetupShown(tonight_of(view), coaching_of(view.document), drawn)


def picture_of(
    drill: StationDrill, key: str, setup: SetUp | None, evening: Evening, prefix: str
) -> SafeString:
    """The plan of every grid that differs, with tonight's numbers in tonight's bibs; as written without a set-up."""
    if setup is None:
        run = as_played(drill.document, key, players=evening.ages)
    else:
        run = dressed(drill.document, key, setup, evening)
    return picture_of_run(run, prefix)


def picture_of_run(run: Played, prefix: str) -> SafeString:
    """The plan of every grid that differs of a drill as it is run."""
    return plan_of_grids(run, [scene_of(run, grid) for grid, _times in run.pictures], prefix)


def _drill(station: Station) -> StationDrill:
    assert station.revision_id is not None
    return drills.documents({station.revision_id})[station.revision_id]


def title_of(setup: SetUp) -> str:
    """`5v5+2 on 32 × 24 m`."""
    sizes = dict.fromkeys(f"{length:g} × {width:g} m" for length, width in setup.grid_sizes)
    return _("{numbers} on {size}").format(numbers=setup.numbers_said(_), size=", ".join(sizes))
