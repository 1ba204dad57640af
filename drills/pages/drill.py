"""A drill's page, made for somebody who has never seen the drill: everything in words and to scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.utils.translation import gettext as _

from club.actor import Actor
from drills.choices import theme_word
from drills.drawing.reading import plan_problems
from drills.game.document import DrillDocument
from drills.game.document.codec import digest
from drills.game.evening import Evening
from drills.game.played import Played, as_played
from drills.game.sentences import Names
from drills.game.validate import missing_for_review, problems
from drills.pages import words
from drills.pages.differences import RevisionRow, revision_rows
from drills.pages.easier_harder import RungRow, ladder_of
from drills.pages.facts import Fact, chips_of, facts_line, facts_of
from drills.pages.fitting import FitRow, TonightShown, fit_shown
from drills.pages.library import activity_word, again_words, felt_words, moment_word, run_words, theme_choices
from drills.pages.plan import Plan, Turn, plan_of
from drills.pages.sizes import SizeShown, size_shown
from drills.pages.steps import WayOn, steps_of
from drills.pages.tonight import told, told_of
from drills.queries.found import FoundDrill, document_for, source_of
from drills.queries.runs import felt, times_run

if TYPE_CHECKING:
    from drills.models import Drill


@dataclass(frozen=True)
class ToldSentence:
    """A sentence, and whether it is another one than in the drill as written."""

    text: str
    changed: bool = False
    own_words: bool = False


@dataclass(frozen=True)
class GroupRow:
    name: str
    bib: str
    count: str
    words: str


@dataclass(frozen=True)
class GridRow:
    size: SizeShown
    shown: bool


@dataclass(frozen=True)
class DrillPage:
    """What the page shows. `doc` is the document as played in the chosen variation."""

    drill: Drill
    doc: DrillDocument
    base: DrillDocument
    key: str
    rung: RungRow | None
    tonight: TonightShown | None  # where numbers were asked for
    plan: Plan
    plan_words: str
    activity: str
    moment: str
    themes: list[tuple[str, str]]
    facts_line: list[str]
    facts: list[Fact]
    chips: list[str]
    groups: list[GroupRow]
    bibs: list[tuple[str, str]]
    start: tuple[str, ...]
    restarts: tuple[str, ...]
    winning: str
    scoring: tuple[str, ...]
    ends: str
    queue: tuple[str, ...]
    conditions: list[ToldSentence]
    phases: list[ToldSentence]
    grids: list[GridRow]
    ladder: list[RungRow]
    steps: list[WayOn]
    kit: list[tuple[str, int]]
    points: list[tuple[str, str, str]]
    questions: list[dict[str, str]]
    stops: list[str]
    hints: list[str]
    missing: list[str]
    lineage: Drill | None
    revisions: list[RevisionRow]
    may_edit: bool
    may_write: bool
    may_direct: bool
    run_words: str  # how often it was run, in words; empty before the first time
    again_words: str  # what was said of it afterwards; empty where nobody said
    felt_words: str  # how hard its last sessions were found; empty where nobody said


def drill_page(
    actor: Actor,
    public_id: UUID | str,
    *,
    key: str = "",
    grid_key: str = "",
    step: int | None = None,
    turn: Turn = 0,
    evening: Evening | None = None,
    place: int = 0,
) -> DrillPage:
    """The page of a drill in one of its variations; with an evening as it is set up by answer `place` of Fit, if there is one.

    Raises Http404; KeyError for an unknown rung, grid, step or answer.
    """
    found = document_for(actor, public_id)
    shown = fit_shown(found.document, key, evening, place) if evening else None
    return _page(actor, found, key, grid_key, step=step, turn=turn, tonight=shown)


def shared_page(found: FoundDrill, *, key: str = "", grid_key: str = "") -> DrillPage:
    """The page for somebody without an account. Raises KeyError for an unknown rung or grid."""
    return _page(Actor(), found, key, grid_key, step=None, turn=0)


def _page(
    actor: Actor,
    found: FoundDrill,
    key: str,
    grid_key: str,
    *,
    step: int | None,
    turn: Turn,
    tonight: TonightShown | None = None,
) -> DrillPage:
    drill, base = found.drill, found.document
    chosen = tonight.chosen if tonight else None
    played = chosen.played if chosen else as_played(base, key, grid_key=grid_key)
    doc = played.document
    ladder = ladder_of(base, key, digest(base))
    return DrillPage(
        drill=drill,
        doc=doc,
        base=base,
        key=key,
        rung=next((each for each in ladder if each.shown and each.key), None),
        tonight=tonight,
        plan=plan_of(played, step=step, turn=turn),
        plan_words=chosen.title if chosen else _plan_words(base, doc, grid_key),
        activity=activity_word(doc.activity.value),
        moment=moment_word(doc.moment.value),
        themes=_themes(doc),
        facts_line=facts_line(doc, chosen.setup.players_total if chosen else None),
        facts=facts_of(doc),
        chips=chips_of(doc),
        groups=_groups(doc) if chosen is None else _groups_tonight(chosen),
        bibs=[(bib, str(n)) for bib, n in sorted(played.bibs.items())]
        if chosen
        else words.bib_counts(doc.groups),
        grids=grids_of(base, doc, grid_key) if chosen is None else [],
        ladder=ladder,
        steps=steps_of(base, key),
        kit=sorted(played.kit.items()),
        lineage=source_of(actor, drill),
        revisions=revision_rows(drill),
        may_edit=drill.may_be_edited_by(actor),
        may_write=actor.is_director or actor.is_coach,
        may_direct=actor.is_director,
        run_words=run_words(times_run(drill)),
        again_words=again_words(times_run(drill)),
        felt_words=felt_words(felt(drill)),
        **_sentences(played),
    )


def _groups_tonight(chosen: FitRow) -> list[GroupRow]:
    return [
        GroupRow(each.name, each.bib, str(each.count), each.where)
        for line in chosen.grids
        for each in line.groups
    ]


def _plan_words(base: DrillDocument, doc: DrillDocument, grid_key: str) -> str:
    grid = next((each for each in doc.grids if each.key == grid_key), doc.grids[0])
    found = size_shown(base, doc, grid)
    text = _("{format} on {grid}: {purpose}") if found.purpose else _("{format} on {grid}")
    return text.format(format=doc.format, grid=found.size, purpose=found.purpose)


def _sentences(tonight: Played) -> dict[str, Any]:
    base, names = tonight.base, tonight.names(_)
    now, before = told(tonight), told_of(base, Names.of(base, _))
    old = {each.text for each in before.rules}
    moments = words.MOMENTS_OF_QUESTIONS
    doc = tonight.document
    return {
        "conditions": [ToldSentence(each.text, each.text not in old, each.own_words) for each in now.rules],
        "phases": [ToldSentence(text, text not in before.phases) for text in now.phases],
        "start": now.start,
        "restarts": now.restarts,
        "winning": now.winning,
        "scoring": now.scoring,
        "ends": now.ends,
        "queue": now.queue,
        "points": [
            (_who(each.role, names), str(moments[each.moment]) if each.moment else "", each.looks_like)
            for each in doc.points
        ],
        "questions": [
            {
                "ask": each.ask,
                "listen": each.listen_for,
                "role": _who(each.role, names),
                "moment": str(moments[each.moment]),
            }
            for each in doc.questions
        ],
        "stops": [str(words.STOPS[each]) for each in doc.stops],
        "hints": [each.said(_) for each in problems(base) if each.severity == "hint"],
        "missing": [each.said(_) for each in (*missing_for_review(base), *plan_problems(base))],
    }


def _who(role: str, names: Names) -> str:
    return names.groups.get(role, role)


def _themes(doc: DrillDocument) -> list[tuple[str, str]]:
    titles = dict(theme_choices())
    return [(key, theme_word(key, titles)) for key in doc.themes]


def _groups(doc: DrillDocument) -> list[GroupRow]:
    sides = words.side_names(doc.groups)
    return [GroupRow(*words.group_heads(each), words.group_words(each, sides)) for each in doc.groups]


def grids_of(base: DrillDocument, doc: DrillDocument, grid_key: str) -> list[GridRow]:
    """Each preset in the drill's own words, with m² per player beside them, the denominator named."""
    shown = grid_key or doc.grids[0].key
    return [GridRow(size_shown(base, doc, each), shown=each.key == shown) for each in doc.grids]
