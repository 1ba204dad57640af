"""What the library's endpoints answer, as typed values: the answers and their description have one definition."""

from typing import Annotated, Any

import msgspec

from drills.game.document import DrillDocument


class Runs(msgspec.Struct, frozen=True, kw_only=True):
    """Why a drill runs tonight, and in which variation."""

    variation: str
    text: str
    short_of: str = ""  # kit that the club lacks for it, in words


class TimesRun(msgspec.Struct, frozen=True, kw_only=True):
    """Parts of sessions that took place and were played with the drill, by how many different people they were led, and of how
    many it was said afterwards to run it again as it was, with a change, or not again."""

    times: int
    coaches: int
    again: int
    again_changed: int
    not_again: int


class DrillRow(msgspec.Struct, frozen=True, kw_only=True):
    """A drill in a list. Lengths in metres, area in m² per player as `area_counts` names them, effort is CR10."""

    id: str
    url: str
    title: str
    purpose: str
    state: str
    activity: str
    format: str
    players_least: int | None
    players_most: int | None
    under_from: int | None
    under_to: int | None
    length_m: float
    width_m: float
    area_per_player_m2: float | None
    area_counts: str
    minutes: int
    effort: float
    themes: list[str]
    condition_kinds: list[str]
    heading: str
    version: int
    times_run: TimesRun
    runs: Runs | None


class Lineage(msgspec.Struct, frozen=True, kw_only=True):
    drill: str
    revision: int


class GridSize(msgspec.Struct, frozen=True, kw_only=True):
    """A grid as the drill's page says it: its own words, and area in m² per player as `area_counts` names them."""

    key: str
    size: str
    purpose: str
    area_per_player_m2: float | None
    area_counts: str
    text: str


class RungSteps(msgspec.Struct, frozen=True, kw_only=True):
    """A rung and where one can go from it, by key: the drill as written has an empty key; null where there is none."""

    key: str
    title: str
    rung: str  # easier, harder, sideways; base for the drill as written
    easier: str | None
    harder: str | None
    back: str | None


class DrillShape(msgspec.Struct, frozen=True, kw_only=True):
    """A drill with what it says now. `version` is what If-Match names, as ETag `"v…"`."""

    id: str
    url: str
    title: str
    state: str
    version: int
    revision: int
    owner: str
    retired: bool
    adapted_from: Lineage | None
    times_run: TimesRun
    felt: Annotated[
        list[float],
        msgspec.Meta(
            description="How hard its last sessions were found on the CR10 scale, latest first; of the whole session each."
        ),
    ]
    grids: list[GridSize]
    rungs: Annotated[
        list[RungSteps],
        msgspec.Meta(description="From the easiest to the hardest; last those that lead sideways."),
    ]
    document: DrillDocument


class DrillToWrite(msgspec.Struct, frozen=True, kw_only=True):
    """A document with a note for the revision. The bare document is taken as well."""

    document: DrillDocument
    note: str = ""


class FitReason(msgspec.Struct, frozen=True, kw_only=True):
    key: str
    text: str
    change: str  # space, task, equipment or people
    weight: str  # change, warning or refusal
    params: dict[str, Any]


class GroupPlayed(msgspec.Struct, frozen=True, kw_only=True):
    """A group tonight: `bib` is empty where it wears none."""

    name: str
    bib: str
    count: int
    where: str


class GridPlayed(msgspec.Struct, frozen=True, kw_only=True):
    """Who is on a grid; grids that look the same stand for one another, as `text` says."""

    grid: int
    text: str
    groups: list[GroupPlayed]


class FitResult(msgspec.Struct, frozen=True, kw_only=True):
    """One way to run the drill tonight. `length_m` × `width_m` is the first grid; `distance` is from the design."""

    format: str
    grids: int
    grid_formats: list[str]
    waiting: int
    distance: float
    length_m: float
    width_m: float
    players_total: int
    area_per_player_m2: float | None
    area_counts: str
    keepers: int
    adult_plays: int
    kind: str
    first: bool
    terms: dict[str, float]
    reasons: list[FitReason]
    kit: dict[str, int]
    played: list[GridPlayed]
    rotation: str
    drawing: str


class FitTerm(msgspec.Struct, frozen=True, kw_only=True):
    """A term of the distance: what it weighs, and what it counts."""

    name: str
    weight: float
    counts: str


class FitResults(msgspec.Struct, frozen=True, kw_only=True):
    """All ways, nearest to the design first; none, with the reasons. `distance_terms` are those that `terms` of a way names."""

    count: int
    results: list[FitResult]
    reasons: list[FitReason]
    distance_terms: list[FitTerm]
    assumed: Annotated[str, msgspec.Meta(description="What was taken for granted because nobody said it.")]


class ExportRow(msgspec.Struct, frozen=True, kw_only=True):
    id: str
    state: str
    sha256: str
    document: DrillDocument


class Export(msgspec.Struct, frozen=True, kw_only=True):
    """The whole library that this person may read."""

    schema_version: int
    drills: list[ExportRow]


class ProblemShape(msgspec.Struct, frozen=True, kw_only=True):
    pointer: str
    detail: str


class ImportOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """What became of a row: created, duplicate or refused. A refused row left nothing behind."""

    row: int
    outcome: str
    title: str
    id: str | None
    errors: list[ProblemShape]


class ImportResult(msgspec.Struct, frozen=True, kw_only=True):
    created: int
    duplicate: int
    refused: int
    results: list[ImportOutcome]
