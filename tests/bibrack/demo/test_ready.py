"""The 42 ready sessions: each made of the club's drills, sound for its theme, and played by the code that a coach meets.

What is asked of them is common practice, no source: a warm beginning, a main part on the theme, a game at the end.
"""

from collections import Counter, defaultdict
from itertools import product
from typing import Any

import pytest

from bibrack.demo import library
from bibrack.demo.words import GROUPS, THEMES
from club import queries as club
from club.models import User
from drills.choices import DrillState
from drills.models import Drill
from sessions import queries
from sessions.choices import PartKind
from sessions.models import PartOrder, TrainingSession
from sessions.planning.load import CHANGEOVER_CR10
from sessions.queries.guides import budget_of
from sessions.queries.ready import from_template, is_for
from tests.bibrack.demo.documents import demo_document

READY = list(library.ready_sessions())
MAIN = (PartKind.PRACTICE, PartKind.GAME)
MOST_SPARE_MIN = 5  # for a drink and a talk

each_ready = pytest.mark.parametrize(("theme", "ready"), READY, ids=[each.name for _theme, each in READY])


def test_there_are_three_for_every_theme_and_no_two_are_called_the_same() -> None:
    assert Counter(theme for theme, _each in READY) == dict.fromkeys((key for key, *_rest in THEMES), 3)
    assert len({each.name for _theme, each in READY}) == len(READY) == 42
    assert len({each.about for _theme, each in READY}) == 42
    assert {path.stem for path in library.READY.iterdir()} == {key for key, *_rest in THEMES}


def test_no_two_of_a_theme_share_a_practice_and_its_game() -> None:
    for key, *_rest in THEMES:
        seen: Counter[tuple[str, str]] = Counter()
        for ready in (each for theme, each in READY if theme == key):
            practices = {each.drill for each in ready.parts if each.kind == PartKind.PRACTICE}
            assert practices
            seen.update(product(practices, [ready.parts[-1].drill]))
        assert set(seen.values()) == {1}, key


def test_every_age_group_finds_some_and_every_theme_begins_where_its_drills_do() -> None:
    of_age = {
        group.label: [name for _theme, name in READY if name.under_from <= group.under <= name.under_to]
        for group in GROUPS
    }
    assert min(len(each) for each in of_age.values()) >= 3
    spread = defaultdict(set)
    for theme, each in READY:
        spread[theme].add((each.under_from, each.under_to))
    assert {theme for theme, ages in spread.items() if len(ages) < 3} == set()


@each_ready
def test_it_is_of_drills_for_these_ages_and_on_its_theme(theme: str, ready: library.ReadySession) -> None:
    kinds = [each.kind for each in ready.parts]
    assert kinds[0] in (PartKind.ARRIVAL, PartKind.WARM_UP)
    assert kinds[-1] is PartKind.GAME
    assert PartKind.PRACTICE in kinds
    documents = {each.drill: demo_document(each.drill) for each in ready.parts}
    assert len(documents) == len(ready.parts)
    for each in ready.parts:
        document = documents[each.drill]
        assert each.variation in {"", *(rung.key for rung in document.variations)}
        assert (document.under_from or 0) <= ready.under_from <= ready.under_to <= (document.under_to or 99)
    assert any(theme in documents[each.drill].themes for each in ready.parts if each.kind in MAIN)
    assert len(ready.about) <= 200
    assert ready.about.endswith(".")


def test_each_is_loaded_and_every_drill_of_it_is_the_clubs_standard(demo_database: str) -> None:
    kept = queries.part_orders()
    assert {each.name for each in kept} == {each.name for _theme, each in READY}
    themes = {each.name: theme for theme, each in READY}
    assert all(each.theme is not None and each.theme.key == themes[each.name] for each in kept)
    named = {each.drill_id for template in kept for each in template.drills.all()}
    states = set(Drill.objects.filter(pk__in=named).values_list("state", "retired_at"))
    assert states == {(DrillState.CLUB_STANDARD, None)}


@pytest.mark.sweep
def test_each_runs_whole_for_every_team_of_its_ages(demo_database: str) -> None:
    """On the team's own ground, in its own minutes, with its own kit: nothing left out, nothing swapped, inside its load."""
    actor = club.actor_of(User.objects.get(email="director@demo.example"))
    against, played = [], Counter()
    for session in _one_of_each_team():
        for template in (each for each in queries.part_orders() if is_for(each, *_unders(session))):
            played[template.name] += 1
            against += _against(template, session, actor)
    assert against == []
    assert set(played) == {each.name for _theme, each in READY}


def _one_of_each_team() -> list[Any]:
    rows = TrainingSession.objects.order_by("-day").values_list("age_group_id", "public_id")
    return [queries.session_by_id(public_id) for public_id in dict(rows).values()]


def _unders(session: Any) -> tuple[int, int | None]:
    low, high = session.age_group.ages.unders
    return low, high


def _against(template: PartOrder, session: Any, actor: Any) -> list[str]:
    """What there is to say against a ready session on a team's evening."""
    where = f"{template.name}, {session.age_group.label}"
    found = from_template(template, session, actor=actor)
    said = [f"{where}: {each.text}" for each in found.changes]
    for players in (template.players_from, template.players_to, session.players_expected):
        fitted = from_template(template, session, actor=actor, players=players)
        said += [
            f"{where}: nothing fits {players} in {each.key}"
            for part in fitted.parts
            for each in part.stations
            if each.setup is None
        ]
    changing = sum(each["changeover_s"] for each in template.parts) / 60
    used = sum(each.minutes for each in found.parts) + changing + club.club_settings().clear_minutes
    length = (session.ends.hour - session.starts.hour) * 60 + session.ends.minute - session.starts.minute
    whole_minutes = 0 if length == template.minutes else len(template.parts)  # each part's are rounded down
    if not 0 <= length - used <= MOST_SPARE_MIN + whole_minutes:
        said.append(f"{where}: {used} of {length} minutes")
    budget = budget_of(session.age_group, club.guidelines_for(session.age_group, session.day))
    load_au = sum(each.minutes * each.cr10 for each in found.parts) + changing * CHANGEOVER_CR10
    if budget.load_au is not None and load_au > budget.load_au:
        said.append(f"{where}: {load_au} AU of {budget.load_au}")
    if budget.hardest_cr10 is not None and max(each.cr10 for each in found.parts) > budget.hardest_cr10:
        said.append(f"{where}: harder than {budget.hardest_cr10}")
    return said
