"""Blocks of a season and the shares of themes in them: what is refused and where, and what a new club begins with."""

from datetime import date, timedelta
from itertools import pairwise

import pytest
from django.urls import reverse
from hypothesis import given
from hypothesis import strategies as st

from club import actions, queries
from club.actions.first_blocks import SHORTEST, WEEKS, begin_with, in_weeks
from club.errors import Refused, Stale
from club.models import Block, Theme
from tests.people import World, signed_in

DAYS = st.dates(date(2020, 1, 1), date(2035, 1, 1))


@given(first=DAYS, days=st.integers(1, 400))
def test_blocks_fill_a_season_without_a_gap(first: date, days: int) -> None:
    after = first + timedelta(days=days)
    found = in_weeks(first, after)
    assert found[0][0] == first
    assert found[-1][1] == after
    assert all(one[1] == next_one[0] for one, next_one in pairwise(found))
    assert all(each[0].weekday() == 0 for each in found[1:])
    assert all((ends - starts).days <= 7 * (WEEKS + SHORTEST) for starts, ends in found)
    assert all((ends - starts).days >= 7 * SHORTEST for starts, ends in found[1:])


def some_themes() -> list[Theme]:
    moments = ["in possession"] * 5 + ["out of possession"] * 3 + ["winning it", "losing it", "set piece"]
    return [Theme(key=f"t{n}", title=f"T{n}", moment=moment) for n, moment in enumerate(moments)]


def test_every_theme_has_its_turn_and_the_youngest_keep_the_ball() -> None:
    themes = some_themes()
    for under in (7, 12, 16, None):
        turns = [begin_with(themes, under, block) for block in range(8)]
        for chosen in turns:
            keys = [theme.key for theme, _share in chosen]
            assert len(set(keys)) == len(keys)
            assert sum(share for _theme, share in chosen) <= 100
            assert ("t0" in keys) == (under == 7)  # friends with the ball
            assert ("t10" in keys) == (under in (16, None))  # set plays
        seen = {theme.key for chosen in turns for theme, _share in chosen}
        wanted = {each.key for each in themes} - ({"t10"} if under in (7, 12) else set())
        assert seen == (wanted if under == 7 else wanted - {"t0"})
    assert begin_with([], 12, 3) == []


@pytest.mark.django_db
def test_a_block_lies_in_its_season_and_over_no_other(world: World) -> None:
    season = world.season
    first = season.period.lower
    made = actions.add_block(
        season=season, name="Autumn", first_day=first, last_day=first + timedelta(days=41)
    )
    assert (made.first_day, made.last_day) == (first, first + timedelta(days=41))
    for days, field in (
        ((first + timedelta(days=41), first + timedelta(days=60)), "first_day"),
        ((first - timedelta(days=1), first - timedelta(days=1)), "first_day"),
        ((first + timedelta(days=60), season.last_day + timedelta(days=1)), "last_day"),
        ((first + timedelta(days=60), first + timedelta(days=50)), "last_day"),
    ):
        with pytest.raises(Refused) as refused:
            actions.add_block(season=season, name="Other", first_day=days[0], last_day=days[1])
        assert list(refused.value.by_field()) == [field]
    # Its own days are no clash with itself.
    actions.change_block(
        block=made, version=1, name="Autumn", first_day=first, last_day=first + timedelta(days=48)
    )
    with pytest.raises(Stale):
        actions.remove_block(block=made, version=1)
    actions.remove_block(block=made, version=2)
    assert not queries.blocks(season)


@pytest.mark.django_db
def test_a_season_is_divided_once_and_each_block_has_themes(world: World) -> None:
    actions.add_themes(themes=[(each.key, each.title, each.moment) for each in some_themes()])
    blocks = actions.divide_season(season=world.season)
    assert blocks[0].first_day == world.season.period.lower
    assert blocks[-1].last_day == world.season.last_day
    shares = queries.shares_of(blocks[0])
    assert set(shares) == {each.pk for each in queries.age_groups(world.season)}
    with pytest.raises(Refused):
        actions.divide_season(season=world.season)
    day = blocks[1].first_day
    assert queries.block_among(blocks, day) == blocks[1]
    assert queries.block_among(blocks, world.season.last_day + timedelta(days=9)) == blocks[-1]


@pytest.fixture
def block(world: World) -> Block:
    actions.add_themes(themes=[(each.key, each.title, each.moment) for each in some_themes()])
    return actions.divide_season(season=world.season)[0]


@pytest.mark.django_db
def test_three_hundred_percent_is_refused_beside_its_theme_and_nothing_is_lost(
    world: World, block: Block
) -> None:
    client = signed_in(world.people.director)
    address = reverse("club:block-targets", args=[block.public_id, world.own.age_group.public_id])
    sent = {"version": str(block.version), "share-t1": "300", "share-t3": "20"}
    answer = client.post(address, sent)
    form = answer.context["form"]
    assert list(form.errors) == ["share-t1"]
    assert 'value="300"' in answer.content.decode()
    with pytest.raises(Refused) as refused:
        actions.set_targets(
            block=block, age_group=world.own.age_group, version=block.version, shares={"t1": 300}
        )
    assert list(refused.value.by_field()) == ["share-t1"]
    answer = client.post(address, {**sent, "share-t1": "30"})
    assert answer.status_code == 302
    assert queries.shares_of(block, world.own.age_group) == {world.own.age_group.pk: {"t1": 30, "t3": 20}}


@pytest.mark.django_db
def test_who_saves_targets_has_seen_the_ones_before(world: World, block: Block) -> None:
    group = world.own.age_group
    actions.set_targets(block=block, age_group=group, version=block.version, shares={"t1": 30})
    with pytest.raises(Stale):
        actions.set_targets(block=block, age_group=group, version=block.version, shares={"t2": 30})
    assert queries.shares_of(block, group)[group.pk] == {"t1": 30}
