"""The demo club's drills: each can be run unseen, says what it means as data, and is written for itself."""

import re
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import msgspec
import pytest

import bibrack
from drills.drawing.checks import check
from drills.game import sentences
from drills.game.document import DrillDocument, FreeText, Limit, WhenThen, decode
from drills.game.document.choices import Activity, Heading, NumbersKind, RestartHow
from drills.game.format import Format
from drills.game.validate import missing_for_review, problems
from drills.game.variations import apply

FOLDER = Path(bibrack.__file__).parent / "demo" / "drills"
FILES = sorted(FOLDER.glob("*.json"))
SLUGS = [each.stem for each in FILES]
SHARED_WORDS = 8  # a run this long in two drills is a sentence copied, not one that happens to agree

THEMES = {
    *("keep-the-ball", "play-out", "switch-play", "combine", "finish", "one-v-one", "ball-mastery"),
    *("press", "press-and-cover", "defend-goal", "counter", "counter-press", "set-plays", "keeper-basics"),
}
BIBS = {"red", "blue", "yellow", "green", "orange", "white", "purple", "black", None}
KIT = {
    *("marker cones", "tall cones", "mini goals", "moveable goals", "balls"),
    *("poles", "hoops", "mannequins", "flat markers"),
}

each_drill = pytest.mark.parametrize("slug", SLUGS)


@cache
def plain(slug: str) -> dict[str, Any]:
    document: dict[str, Any] = msgspec.json.decode((FOLDER / f"{slug}.json").read_bytes())
    return document


@cache
def drill(slug: str) -> DrillDocument:
    return decode(plain(slug))


def texts(value: Any) -> Iterator[str]:
    """Every string of a document, however deep."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner)


def runs(text: str) -> Iterator[str]:
    words = re.findall(r"[a-z0-9’']+", text.lower())
    for start in range(len(words) - SHARED_WORDS + 1):
        yield " ".join(words[start : start + SHARED_WORDS])


def played(slug: str) -> list[DrillDocument]:
    """The base and each of its variations, as they are played."""
    base = drill(slug)
    return [base, *(apply(base, each) for each in base.variations)]


def said(document: DrillDocument) -> list[str]:
    """Every generated sentence of a drill."""
    names = sentences.Names.of(document)
    return [
        *(sentences.say(each, names) for each in document.conditions),
        *(sentences.say_restart(each, names) for each in document.restarts),
        *(sentences.say_phase(each, names) for each in document.phases),
        sentences.say_ends(document.ends, names),
    ]


def test_the_club_has_a_library() -> None:
    assert len(FILES) == 43
    titles = [drill(each).title for each in SLUGS]
    assert sorted(set(titles)) == sorted(titles)


@each_drill
def test_nothing_is_wrong_and_nothing_is_missing(slug: str) -> None:
    assert [each for each in problems(drill(slug)) if each.severity == "error"] == []
    assert missing_for_review(drill(slug)) == []


@each_drill
def test_numbers_and_groups_agree(slug: str) -> None:
    """The hint about groups that do not add up is not overruled in the base of any demo drill."""
    assert [each for each in problems(drill(slug)) if each.field == "groups"] == []


@each_drill
def test_no_rule_in_free_text(slug: str) -> None:
    for document in played(slug):
        assert [each for each in document.conditions if isinstance(each, FreeText)] == []


@each_drill
def test_words_come_from_the_club(slug: str) -> None:
    document = drill(slug)
    assert set(document.themes) - THEMES == set()
    assert {each.bib for each in document.groups} - BIBS == set()
    assert {each.kind for each in document.kit} - KIT == set()
    assert 1 <= len(document.themes) <= 3


@each_drill
def test_sentences_are_whole(slug: str) -> None:
    """No number is missing, no key is left where a name belongs, nobody is named twice over."""
    base = drill(slug)
    for document in played(slug):
        for text in said(document):
            assert " ? " not in f" {text} "
            assert "  " not in text
            assert "{" not in text
            assert re.search(r"\b[AB]\b|\bK[12]\b|\bA-|\bB-", text) is None
    for variation, after in zip(base.variations, played(slug)[1:], strict=True):
        for change in variation.changes:
            assert len(sentences.say_change(change, base, after, sentences.Names.of(base))) > 5


@each_drill
def test_another_coach_can_run_it(slug: str) -> None:
    document = drill(slug)
    asked = {(each.role, each.moment) for each in document.questions}
    after = {each.after for each in document.restarts}
    assert len(asked) >= 3
    assert len(after) == len(document.restarts) >= 2
    assert len(document.points) >= 3
    assert len(document.faults) == 2
    assert 2 <= len(document.say_this) <= 3
    assert 1 <= len(document.challenges) <= 2
    assert document.start is not None
    assert document.praise
    assert document.coach_place
    assert document.stops
    assert document.safety
    assert document.under_from


@each_drill
def test_the_work_fits_the_minutes(slug: str) -> None:
    """Bouts and the rests between them, and at most four minutes to explain and to talk."""
    work = drill(slug).work
    seconds = work.bouts * work.bout_s + (work.bouts - 1) * work.rest_s
    assert seconds <= work.minutes * 60 <= seconds + 240
    assert work.effort >= 2


@each_drill
def test_variations_change_something_measurable(slug: str) -> None:
    base = drill(slug)
    assert len(base.variations) >= 2
    assert {each.rung.value for each in base.variations} > {"easier"}
    for variation, document in zip(base.variations, played(slug)[1:], strict=True):
        assert variation.why
        assert msgspec.structs.replace(document, work=base.work, scene=base.scene) != base


@each_drill
def test_heading_is_kept_from_the_young(slug: str) -> None:
    """FA heading guidance for training, 2020 (second-hand copy): none up to U11; U12 once a month, at most 5."""
    document = drill(slug)
    if document.heading is Heading.NONE:
        assert document.headers_per_player == 0
    else:
        assert (document.under_from or 0) >= 12
        assert document.headers_per_player <= 10


@each_drill
def test_throwing_in_waits_for_the_under_12(slug: str) -> None:
    """Common practice, no source: what is thrown at heads and chests belongs with those who may head."""
    document = drill(slug)
    throws = [each for each in document.restarts if each.how is RestartHow.THROW_IN]
    started = document.start is not None and "throw" in document.start.trigger
    if throws or started or "throw-in" in document.purpose:
        assert (document.under_from or 0) >= 12


@each_drill
def test_rounds_and_rests_are_whole_or_half_minutes(slug: str) -> None:
    for document in played(slug):
        assert (document.work.bout_s % 30, document.work.rest_s % 30) == (0, 0)


@each_drill
def test_an_effort_is_one_that_a_coach_would_name(slug: str) -> None:
    """CR10 of the whole part (common practice, no source): a game of six or seven a side 5 to 6, five against two 4."""
    document = drill(slug)
    if document.format == "GK+6v6+GK":
        assert 5.5 <= document.work.effort <= 6
    if document.activity is Activity.RONDO and document.format in ("4v1", "5v2"):
        assert 3.5 <= document.work.effort <= 4
    if document.activity in (Activity.WARM_UP, Activity.ARRIVAL, Activity.PATTERN, Activity.TECHNIQUE):
        assert document.work.effort <= 4
    assert document.work.effort <= 7


@each_drill
def test_children_who_are_youngest_never_queue(slug: str) -> None:
    """Common practice, no source: up to eight years nobody is out and nobody stands in line."""
    document = drill(slug)
    if (document.under_to or 99) <= 9:
        assert document.queue is None
        assert [each.key for each in document.groups if each.place.value == "queue"] == []


@each_drill
def test_a_planned_wait_is_said(slug: str) -> None:
    document = drill(slug)
    waits = [each for each in document.groups if each.place.value == "queue"]
    if waits:
        assert document.queue is not None


@each_drill
def test_each_size_has_its_purpose(slug: str) -> None:
    grids = drill(slug).grids
    assert len({each.purpose for each in grids}) == len(grids) >= 2
    assert len({each.length_m * each.width_m for each in grids}) == len(grids)


def test_no_sentence_is_used_twice() -> None:
    """No two drills share a run of eight words."""
    found: dict[str, set[str]] = defaultdict(set)
    for slug in SLUGS:
        for text in texts(plain(slug)):
            for run in runs(text):
                found[run].add(slug)
    assert {run: sorted(slugs) for run, slugs in found.items() if len(slugs) > 1} == {}


def test_some_drills_run_with_few_players() -> None:
    """Four to six players came: there is still a choice."""
    fitting = []
    for slug in SLUGS:
        document = drill(slug)
        least = document.numbers.least or Format.parse(document.format).players
        most = document.numbers.most or Format.parse(document.format).players
        if document.numbers.kind is NumbersKind.EXACT:
            least = most = Format.parse(document.format).players
        if least <= 6 and most >= 4:
            fitting.append(slug)
    assert len(fitting) >= 4


def test_drawn_plans_show_what_the_text_says() -> None:
    """A plan drawn by hand has steps, and no check finds anything against it."""
    drawn = [each for each in SLUGS if drill(each).scene]
    assert {"all-aboard", "clear-the-harbour", "landing-strip", "stepping-stones"} <= set(drawn)
    for slug in drawn:
        document = drill(slug)
        assert document.scene is not None
        assert len(document.scene.steps) >= 1
        assert check(document.scene, Format.parse(document.format), under=document.under_to) == []


def test_a_game_with_a_phase_of_its_own_numbers() -> None:
    """A driver who is found in the lane rides along, six against five for fifteen seconds; for longer when easier."""
    document = drill("all-aboard")
    assert document.format == "5v5+2in"
    assert document.scene is not None
    assert len(document.scene.steps) == 3
    assert [each.place.value for each in document.groups] == ["inside", "inside", "zone"]
    names = sentences.Names.of(document)
    assert next(sentences.say(each, names) for each in document.conditions if isinstance(each, WhenThen)) == (
        "once the ball is brought into the bus lane by reds, one of the drivers comes in and the ride starts"
    )
    assert [(each.format, each.within_s) for each in document.phases] == [("6v5", 15)]
    easier = apply(document, document.variations[0])
    assert [(each.format, each.within_s) for each in easier.phases] == [("6v5", 25)]
    assert [each.number for each in document.conditions if isinstance(each, Limit)] == [None, None, 3]
