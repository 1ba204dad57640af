"""Subqueries that are compiled once, and lists that are read in one query: the same answers as without."""

from typing import Any

import pytest
from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import F, OuterRef
from django.db.models.functions import JSONObject

from club import queries
from club.actor import Actor
from club.models import AgeGroup, Season, Squad, SquadSeason
from club.queries.ready_made import ReadyArray
from tests.factories import placed_squad, role_for
from tests.people import World

pytestmark = pytest.mark.django_db


def groups(array: Any) -> Any:
    rows = AgeGroup.objects.filter(season=OuterRef("pk")).order_by("label")
    return Season.objects.annotate(labels=array(rows.values("label")))


def test_a_query_that_is_built_once_answers_each_filter_as_one_that_is_built_anew(world: World) -> None:
    built = groups(ReadyArray)
    for wanted in ({}, {"pk": world.season.pk}, {"pk": 0}):
        fresh = groups(ArraySubquery).filter(**wanted)
        for _ in range(2):  # compiled, then ready made
            assert list(built.filter(**wanted).values_list("labels")) == list(fresh.values_list("labels"))
            assert str(built.filter(**wanted).query) == str(fresh.query)


def test_it_is_compiled_once() -> None:
    built = groups(ReadyArray)
    str(built.query)
    made = built.query.annotations["labels"]._made
    str(built.filter(pk=1).query)
    assert built.filter(pk=1).query.annotations["labels"]._made is made is not None


def test_its_tables_get_other_names_inside_another_query(world: World) -> None:
    built = groups(ReadyArray)
    str(built.query)  # with the names that it has alone
    inner = built.filter(pk=OuterRef("season")).values("labels")[:1]
    found = SquadSeason.objects.annotate(labels=ReadyArray(inner)).values_list("season", "labels")
    labels = dict(built.values_list("pk", "labels"))
    assert list(found)
    assert all(rows == [labels[season]] for season, rows in found)


def test_lists_read_at_once_are_those_read_one_by_one(world: World, django_assert_num_queries: Any) -> None:
    placed_squad(age_group=world.own.age_group)
    actor: Actor = queries.actor_of(world.people.director)
    row = JSONObject(name="name", pk=F("pk"))
    lists = {"roles": queries.role_rows(), "squads": Squad.objects.order_by("pk").values_list(row, flat=True)}
    with django_assert_num_queries(1):
        found = queries.at_once(actor, lists)
    assert found == {name: list(each) for name, each in lists.items()}
    assert len(found["squads"]) > 1
    with django_assert_num_queries(0):
        assert queries.at_once(actor, {}) == {}


def test_who_works_here_is_the_same_person_by_person(world: World) -> None:
    role_for(user=world.people.helper, role="reader")
    listed = {(each.pk, each.name, each.public_id) for each in queries.staff_with_checks()}
    assert {(each.pk, each.name, each.public_id) for each in queries.working_with_checks()} == listed
