"""The same evening gets the same set-ups, whichever door it comes in by: 200 random evenings of the demo club.

Doors: a drill's page, the API, the search, a station, the pitch, a proposal, a session used again by its own team and by another. They
differ in the evening that they build, never in what Fit answers to it; and words and picture show the same numbers.
"""

import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Any
from uuid import uuid4

import msgspec
import pytest
from django.db import transaction
from django.urls import reverse

from club.errors import Refused
from drills.drawing.picture import laid
from drills.game.evening import Evening, as_plain, from_plain
from drills.game.fits import fits
from drills.game.played import dressed
from tests.doors import EVENINGS, Installation, evenings, in_session, on_page, params, shape, shapes
from tests.harness.templates import pointed_at, run
from tests.sessions.set_ups import setup_of
from tests.sweep.held import contradictions


@pytest.fixture(scope="module")
def installation(demo_template: str, django_db_blocker: Any) -> Iterator[Installation]:
    from club.models import AgeGroup, User
    from drills.bridge import document_of
    from drills.models import Drill
    from drills.queries import club_stock
    from sessions import queries
    from sessions.models import Station

    name = f"doors_{uuid4().hex[:12]}"
    run("CREATE DATABASE {} TEMPLATE {}", name, demo_template)
    with django_db_blocker.unblock(), pointed_at(name):
        shelf = Drill.objects.filter(state="club standard", retired_at=None).select_related(
            "current_revision"
        )
        drills = list(shelf.order_by("title"))
        station = Station.objects.filter(revision__isnull=False, part__session__state="planned").first()
        assert station is not None
        yield Installation(
            drills=drills,
            documents=[document_of(each.current_revision) for each in drills],
            groups=list(AgeGroup.objects.order_by("under")),
            stock=club_stock(),
            session=queries.session_by_id(station.part.session.public_id),
            director=User.objects.filter(is_active=True, roles__role="director").first(),
        )
    run("DROP DATABASE IF EXISTS {} WITH (FORCE)", name)


def test_a_drills_page_in_words_and_pictures(installation: Installation) -> None:
    from drills import pages

    found, none = 0, 0
    for number, (asked, _drill, document, key) in enumerate(installation.each()):
        evening, problems = pages.evening_asked(params(installation, asked))
        assert (problems, evening) == ([], on_page(installation, asked))
        assert evening is not None
        answer = fits(document, key, evening)
        found, none = found + bool(answer), none + (not answer)
        if number % 3:  # the same evening, so the same answers: drawing them takes its time
            continue
        shown = pages.fit_shown(document, key, evening)
        first = [] if shown.chosen is None else [shown.chosen, *shown.others]
        rows = sorted([*first, *shown.rest], key=lambda row: row.place)
        assert shapes([row.setup for row in rows]) == shapes(answer)
        assert list(shown.refusals) == [each.text for each in answer.refusals]
        for row in first:
            told = sum(group.count for grid in row.grids for group in grid.groups)
            run = dressed(document, key, row.setup, evening)
            drawn = [each for grid, _n in run.pictures for each in laid(run, grid).scene.players]
            players = [each for each in drawn if each.kind != "adult"]
            assert len(players) == told, (document.title, key, row.title)
            assert str(row.setup.format) in row.title
    assert min(found, none) >= EVENINGS // 8  # both come often enough to mean something


def test_the_api(installation: Installation) -> None:
    from tests.people import signed_in

    client = signed_in(installation.director)
    for asked, drill, document, key in installation.each(every=5):
        query = {"variation": key, **params(installation, asked)}
        answer = client.get(reverse("api-fit", args=[drill.public_id]), query).json()
        expected = fits(document, key, on_page(installation, asked))
        assert [
            (each["grid_formats"], each["length_m"], each["width_m"], each["waiting"])
            for each in answer["results"]
        ] == [(list(map(str, s.grid_formats)), s.length_m, s.width_m, s.waiting) for s in expected]
        assert [each["text"] for each in answer["reasons"]] == [each.text for each in expected.refusals]


def test_the_first_line_of_the_search(installation: Installation) -> None:
    from club.queries import actor_of
    from drills import pages, queries
    from drills.bridge import document_of
    from drills.pages.library import numbers_and_place

    actor, lines = actor_of(installation.director), 0
    for asked, *_rung in installation.each(every=9):
        wanted = queries.DrillSearch(
            players=asked.players, keepers=asked.keepers, length=asked.length, width=asked.width
        )
        evening = Evening(asked.players, asked.keepers, pieces=asked.ground, kit=installation.kit(asked))
        for drill in queries.hits_and_facets(actor, wanted)[0][:5]:
            card = pages.card(drill, wanted, {}, queries.stock_for(wanted))
            best = fits(document_of(drill.current_revision), card.runs_key, evening)
            if not card.short_of:
                assert card.runs == numbers_and_place(best[0]), (drill.title, card.runs_key, asked)
                lines += 1
            else:
                assert not best
    assert lines > 30


def at_station(installation: Installation, drill: Any, key: str) -> Any:
    """A station of the session as if this rung were played at it; nothing is written."""
    station = next(each for part in installation.session.parts.all() for each in part.stations.all())
    station.revision, station.revision_id = drill.current_revision, drill.current_revision_id
    station.variation_key, station.setup, station.evening = key, None, None
    return station


def test_a_station_and_what_it_keeps(installation: Installation) -> None:
    from sessions import actions
    from sessions.bridge import evening_as_kept
    from sessions.queries.evening import evening_typed

    for asked, drill, document, key in installation.each():
        evening = evening_typed(
            installation.session,
            players=asked.players,
            keepers=asked.keepers,
            adults=asked.adults,
            length_m=asked.length,
            width_m=asked.width,
        )
        assert evening == in_session(installation, asked)
        assert evening.chosen
        expected = fits(document, key, evening)
        station = at_station(installation, drill, key)
        if not expected:
            with pytest.raises(Refused) as refused:
                actions.fitted(station, evening)
            said = [each.text for each in refused.value.problems]
            assert said == [each.text for each in expected.refusals]
            continue
        found = actions.fitted(station, evening)
        assert shapes(found) == shapes(expected)
        kept = from_plain(msgspec.json.decode(msgspec.json.encode(evening_as_kept(found[0], evening))))
        assert shape(fits(document, key, kept)[0]) == shape(found[0])


def test_the_pitch_with_and_without_signal(installation: Installation) -> None:
    from sessions.pages.pitch.along import nearest_to
    from sessions.pages.pitch.fitting import fit_shown
    from sessions.queries.evening import pieces_of, station_evening, with_players
    from sessions.queries.station import station_view

    for asked, drill, document, key in installation.each(every=11):
        station = at_station(installation, drill, key)
        station.setup, station.evening = None, as_plain(in_session(installation, asked))
        evening = station_evening(installation.session, station, kit=installation.kit(asked))
        wanted = in_session(installation, asked)
        assert evening == replace(wanted, pieces=evening.pieces)
        assert evening.pieces in (
            wanted.pieces,
            pieces_of(installation.session),
        )  # ground that is too large is not to be had
        drawn = station_view(installation.session, station).drill
        for players in range(asked.players - 4, asked.players + 5):
            keepers = None if asked.keepers is None else min(players, asked.keepers)
            best = fits(document, key, replace(evening, players=players, keepers=keepers)).setups[:1]
            shown = nearest_to(drawn, key, with_players(evening, players)).setup
            assert (shown is None) == (not best)
            for each in best:
                assert (shown.numbers, shown.waiting) == (each.numbers, each.waiting)
                assert shown.grid_sizes[0] == each.grid_sizes[0]
        if answer := fits(document, key, evening):
            assert all(
                each.title.startswith(setup.numbers)
                for each, setup in zip(fit_shown(station, answer, evening), answer.first, strict=True)
            )


def test_ten_through_a_proposal(installation: Installation) -> None:
    from club.queries import actor_of
    from drills import queries as drills
    from sessions.actions.setups import put_setup
    from sessions.proposals.queries import stations_of, wish_for
    from sessions.proposals.queries.ways import ways_of

    dice, actor, group = random.Random("ten"), actor_of(installation.director), installation.session.age_group
    by_id = {str(drill.public_id): at for at, drill in enumerate(installation.drills)}
    offered = drills.offered_rungs(actor, ages=group.ages.unders)
    offered = [each for each in offered if str(each.drill_id) in by_id]
    taken = 0
    for asked in evenings():
        if asked.length is None or not asked.kit:
            continue
        wish = msgspec.structs.replace(
            wish_for(installation.session),
            players=asked.players,
            keepers=asked.keepers,
            adults=asked.adults,
            length=asked.length,
            width=asked.width,
        )
        rung = dice.choice(offered)
        at = by_id[str(rung.drill_id)]
        expected = fits(installation.documents[at], rung.key, wish.evening)
        ways = ways_of(rung, wish.evening)
        assert (not ways) <= (not expected)
        numbers = {(each.numbers, each.grids) for each in expected}
        for way in ways:
            if (way.format, way.grids) not in numbers:
                continue  # the kit is short for it, so the solver leaves it
            facts = {"numbers": way.format, "grids": way.grids, "drill": str(rung.drill_id)}
            ((_facts, evening),) = stations_of(facts, wish)
            with transaction.atomic():
                station = at_station(installation, installation.drills[at], rung.key)
                assert put_setup(station, evening, numbers=way.format, grids=way.grids)
                found = expected.find(way.format, way.grids)
                assert found is not None
                assert setup_of(station) == found
                assert way.cones == " ".join(f"{length:g}x{width:g}" for length, width in found.grid_sizes)
                transaction.set_rollback(True)
            taken += 1
        if taken >= 10:
            break
    assert taken >= 10


@pytest.mark.parametrize("door", ["own", "group"])
def test_a_session_used_again_by_its_own_team_and_by_another(installation: Installation, door: str) -> None:
    from sessions.planning.refit import StationToReuse
    from sessions.planning.refit.rungs import choose
    from sessions.queries import reuse

    group = installation.session.age_group
    for asked, _drill, document, key in installation.each(every=3 if door == "own" else 5):
        if door == "own":
            target = reuse.own_target(installation.session, players=asked.players)
            if asked.length and asked.width:
                target = reuse.other_ground(
                    installation.session,
                    "other",
                    players=asked.players,
                    length_m=asked.length,
                    width_m=asked.width,
                )
        else:
            there = {"players": asked.players, "adults": asked.adults or 0, "zones": []}
            target = reuse.group_target(group.pk, minutes=90, source=installation.session, **there)
            assert target.evening == Evening(
                asked.players,
                None,
                asked.adults,
                installation.ages(),
                (),
                installation.kit(asked),
                chosen=True,
            )
        carried = StationToReuse(
            "s", "p", document.title, document, key, 15, 3, 240, 45, 0, document.work.effort
        )
        target = replace(target, headers=None, hardest_cr10=None)
        rung, setup, ground, _why = choose(carried, target, target.evening.ground)
        expected = fits(document, rung, target.evening)
        assert ([] if setup is None else [shape(setup)]) == shapes(expected.setups[:1])
        if setup is not None:
            assert ground.key == setup.piece
            assert rung == key or not fits(document, key, target.evening)


def test_sixty_set_ups_read_alike_on_page_sheet_pitch_and_api(installation: Installation) -> None:
    """Accepted at a station, out of the club's bibs and out of few: the same groups, rules, kit and pictures everywhere."""
    from club.api_described import plain
    from sessions.api import answers
    from sessions.bridge import evening_as_kept, setup_as_kept, setup_kept
    from sessions.pages.pitch.rungs import ladder
    from sessions.pages.pitch.tonight import tonight_of
    from sessions.pages.sheet.parts import station_on_sheet
    from sessions.pages.stations.plans import station_drawing
    from sessions.queries.station import station_view

    few = {"red bibs": 7, "orange bibs": 6, "white bibs": 6, "purple bibs": 6}
    looked_at = 0
    for number, (asked, drill, document, key) in enumerate(installation.each()):
        evening = in_session(installation, asked)
        if number % 2:
            evening = replace(evening, kit=few)
        answer = fits(document, key, evening)
        if not answer:
            continue
        looked_at += 1
        station = at_station(installation, drill, key)
        station.setup = setup_as_kept(answer[0], document, key, evening)
        station.evening = evening_as_kept(answer[0], evening)
        view = station_view(installation.session, station)
        sheet, pitch = station_on_sheet(view, (), "s-"), tonight_of(view)
        api = plain(answers.station(view))

        groups = [(each.name, each.bib, each.count) for grid in pitch.grids for each in grid.groups]
        assert [(each.name, each.bib, each.players) for each in sheet.teams] == groups
        assert [
            (each["name"], each["bib"], each["count"])
            for grid in api["played"]["grids"]
            for each in grid["groups"]
        ] == groups
        said = [*api["played"]["rules"], *api["played"]["phases"], api["played"]["winning"]]
        said = [each for each in (*said, *api["played"]["scoring"], *api["played"]["restarts"]) if each]
        assert [each.text for each in pitch.told.rules] == api["played"]["rules"]
        assert list(pitch.told.how) == said
        assert set(said) <= {sheet.condition, *sheet.rules}
        assert tuple(api["played"]["say_this"]) == sheet.say
        assert api["setup"]["kit"] == view.kit
        assert sum(api["setup"]["bibs"].values()) == view.kit.get("bibs", 0)
        assert api["setup"]["numbers"] in pitch.headline
        assert sheet.numbers == pitch.headline
        if looked_at % 6 == 0:  # every rung of a drill is drawn for it, which takes its time
            now = ladder(
                view.drill, key, kept=setup_kept(station), evening=view.evening, ages=view.ages, prefix="p-"
            ).now
            assert (now.rules, now.numbers) == (said, pitch.headline)
        drawn = station_drawing(view, "d-", every=True)
        assert drawn is not None
        assert len(drawn.grids) == len(sheet.pictures) == len(pitch.grids)
        assert list(contradictions(view.tonight)) == []
        if looked_at == 60:
            break
    assert looked_at == 60
