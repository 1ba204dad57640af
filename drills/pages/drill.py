"""A drill's page, made for somebody who has never seen the drill: everything in words and to scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from uuid import UUID

from django.utils.translation import gettext as _

from club.actor import Actor
from club.ages import under_words
from drills.choices import theme_word
from drills.drawing.reading import plan_problems
from drills.game.document import DrillDocument
from drills.game.document.choices import Rung
from drills.game.document.operations import change_class
from drills.game.format import Format
from drills.game.played import Played, as_played
from drills.game.sentences import Names, say_change, say_grid
from drills.game.validate import missing_for_review, problems
from drills.game.variations import apply, find
from drills.pages import words
from drills.pages.differences import RevisionRow, revision_rows
from drills.pages.library import activity_word, moment_word, players_words, run_words, theme_choices
from drills.pages.plan import Plan, Turn, plan_of
from drills.pages.sizes import SizeShown, area_of, size_shown
from drills.pages.steps import WayOn, steps_of
from drills.pages.tonight import told, told_of
from drills.queries.found import FoundDrill, document_for, source_of
from drills.queries.runs import times_run

if TYPE_CHECKING:
    from drills.models import Drill


@dataclass(frozen=True)
class Fact:
    label: str
    value: str
    unit: str = ""
    long: bool = False


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
    plan: Plan
    plan_words: str
    activity: str
    moment: str
    themes: list[tuple[str, str]]
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


def drill_page(
    actor: Actor,
    public_id: UUID | str,
    *,
    key: str = "",
    grid_key: str = "",
    step: int | None = None,
    turn: Turn = 0,
) -> DrillPage:
    """The page of a drill in one of its variations.

    Raises Http404; KeyError for an unknown rung, grid or step.
    """
    return _page(actor, document_for(actor, public_id), key, grid_key, step=step, turn=turn)


def shared_page(found: FoundDrill, *, key: str = "", grid_key: str = "") -> DrillPage:
    """The page for somebody without an account. Raises KeyError for an unknown rung or grid."""
    return _page(Actor(), found, key, grid_key, step=None, turn=0)


def _page(
    actor: Actor, found: FoundDrill, key: str, grid_key: str, *, step: int | None, turn: Turn
) -> DrillPage:
    drill, base = found.drill, found.document
    tonight = as_played(base, key, grid_key=grid_key)
    doc = tonight.document
    ladder = ladder_of(base, key)
    said = _sentences(tonight)
    return DrillPage(
        drill=drill,
        doc=doc,
        base=base,
        key=key,
        rung=next((each for each in ladder if each.shown and each.key), None),
        plan=plan_of(tonight, step=step, turn=turn),
        plan_words=_plan_words(base, doc, grid_key),
        activity=activity_word(doc.activity.value),
        moment=moment_word(doc.moment.value),
        themes=_themes(doc),
        facts=facts_of(doc),
        chips=_chips(doc),
        groups=_groups(doc),
        bibs=words.bib_counts(doc.groups),
        grids=grids_of(base, doc, grid_key),
        ladder=ladder,
        steps=steps_of(base, key),
        kit=sorted(tonight.kit.items()),
        lineage=source_of(actor, drill),
        revisions=revision_rows(drill),
        may_edit=drill.may_be_edited_by(actor),
        may_write=actor.is_director or actor.is_coach,
        may_direct=actor.is_director,
        run_words=run_words(times_run(drill)),
        **said,
    )


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
        "hints": [each.text for each in problems(base) if each.severity == "hint"],
        "missing": [each.text for each in (*missing_for_review(base), *plan_problems(base))],
    }


def _who(role: str, names: Names) -> str:
    return names.groups.get(role, role)


def facts_of(doc: DrillDocument) -> list[Fact]:
    """The title block: numbers, grid, time, effort."""
    fmt, grid, work = Format.parse(doc.format), doc.grids[0], doc.work
    area = area_of(doc)
    facts = [Fact(_("Format"), doc.format), Fact(_("Players"), _players(doc, fmt))]
    facts.append(Fact(_("Grid"), f"{grid.length_m:g} × {grid.width_m:g}", "m"))
    if area:
        facts.append(Fact(_("Area per player"), area.figure, f"m², {area.counted}"))
    facts += [
        Fact(_("Bouts"), words.work_words(work), long=True),
        Fact(_("Minutes"), f"{work.minutes}", "min"),
        Fact(_("Effort, CR10"), f"{work.effort:g}"),
        Fact(_("Load"), f"{work.effort * work.minutes:.0f}", "AU"),
        Fact(_("Adults"), f"{doc.adults}"),
        Fact(_("Set up in"), f"{doc.setup_minutes}", "min"),
        Fact(_("Balls"), words.balls_line(doc.balls), long=bool(doc.balls.supply)),
    ]
    if fmt.overload is not None and len(fmt.sides) == 2:
        facts.insert(2, Fact(_("Options on the ball"), f"{fmt.passing_options}", _option_unit(fmt)))
    return facts


def _option_unit(fmt: Format) -> str:
    return _("+1 keeper") if fmt.keeper_option else ""


def _players(doc: DrillDocument, fmt: Format) -> str:
    numbers = doc.numbers
    if numbers.kind.value == "exact":
        return f"{fmt.players}"
    if numbers.kind.value == "anyone":
        return _("anyone can join")
    return players_words(numbers.least, numbers.most)


def _chips(doc: DrillDocument) -> list[str]:
    chips = [
        str(words.DIRECTIONS[doc.direction]),
        str(words.HEADINGS[doc.heading]),
        str(words.INDOORS[doc.indoors]),
    ]
    if doc.heading.value == "planned" and doc.headers_per_player:
        chips[1] = _("{n} headers a player").format(n=doc.headers_per_player)
    if ages := under_words(doc.under_from, doc.under_to):
        chips.append(ages)
    if doc.shot_towards:
        chips.append(_("shots go towards {where}").format(where=doc.shot_towards))
    return chips


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


@dataclass(frozen=True)
class ChangeLine:
    cls: str
    cls_word: str
    text: str


@dataclass(frozen=True)
class RungRow:
    key: str
    title: str
    side: str
    side_word: str
    why: str
    numbers: str
    effort: float
    changes: list[ChangeLine]
    shown: bool


def ladder_of(base: DrillDocument, key: str) -> list[RungRow]:
    """Harder above, easier below, the drill as written between them; another theme just above it."""
    rows = [_rung(base, each.key, key) for each in base.variations]
    by_side = {side: [each for each in rows if each.side == side.value] for side in Rung}
    return [
        *reversed(by_side[Rung.HARDER]),
        *by_side[Rung.SIDEWAYS],
        _rung(base, "", key),
        *by_side[Rung.EASIER],
    ]


def _rung(base: DrillDocument, key: str, shown: str) -> RungRow:
    variation = find(base, key)
    changed = apply(base, variation)
    numbers = f"{changed.format} · {say_grid(changed.grids[0])} · CR10 {changed.work.effort:g}"
    if variation is None:
        return RungRow("", base.title, "base", _("as written"), "", numbers, base.work.effort, [], not shown)
    names = Names.of(base, _)
    changes = [
        ChangeLine(
            change_class(each).value, _(change_class(each).value), say_change(each, base, changed, names)
        )
        for each in variation.changes
    ]
    return RungRow(
        key=key,
        title=variation.title,
        side=variation.rung.value,
        side_word=str(words.RUNG_WORDS[variation.rung]),
        why=variation.why or "",
        numbers=numbers,
        effort=changed.work.effort,
        changes=changes,
        shown=key == shown,
    )
