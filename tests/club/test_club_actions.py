"""What the club's actions do, and what they refuse."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from club import actions, queries
from club.choices import Role, Rule
from club.errors import Refused, Stale
from club.models import Guideline, KitStock, StaffRole
from tests.club.looking import found_in_tables
from tests.factories import (
    AgeGroupFactory,
    BibStockFactory,
    GuidelineFactory,
    KitStockFactory,
    PlayerFactory,
    SeasonFactory,
    UserFactory,
    placed_squad,
    player_in,
    role_for,
)
from tests.people import World

pytestmark = pytest.mark.django_db


def refused(error: pytest.ExceptionInfo[Refused]) -> dict[str, list[str]]:
    return error.value.by_field()


# Stale saves -----------------------------------------------------------------------------------------------


def test_a_stale_save_brings_theirs_and_what_both_began_with() -> None:
    squad = placed_squad(age_group=AgeGroupFactory(), name="Otters")
    actions.change_squad(squad=squad, version=1, name="River Otters")
    with pytest.raises(Stale) as error:
        actions.change_squad(squad=squad, version=1, name="Sea Otters")
    stale = error.value
    assert (stale.theirs.name, stale.base.name, stale.version) == ("River Otters", "Otters", 2)
    squad.refresh_from_db()
    assert (squad.name, squad.version) == ("River Otters", 2)


def test_counting_the_bag_refuses_a_number_that_somebody_changed() -> None:
    balls, cones, red = KitStockFactory(kind="balls", count=12), KitStockFactory(count=20), BibStockFactory()
    kit = [
        actions.StockChange(field="a", public_id=balls.public_id, was=10, count=11),
        actions.StockChange(field="b", public_id=cones.public_id, was=20, count=24),
    ]
    bibs = [actions.StockChange(field="c", public_id=red.public_id, was=10, count=9)]
    with pytest.raises(Refused) as error:
        actions.save_stock(kit=kit, bibs=bibs)
    assert refused(error) == {"a": ["Somebody set this to 12. Look again, then save."]}
    assert sorted(KitStock.objects.values_list("count", flat=True)) == [12, 20]
    actions.save_stock(kit=kit[1:], bibs=bibs)
    assert sorted(KitStock.objects.values_list("count", flat=True)) == [12, 24]
    red.refresh_from_db()
    assert red.count == 9


# People ----------------------------------------------------------------------------------------------------


def test_the_last_director_stays(world: World) -> None:
    role = world.people.director.roles.get()
    with pytest.raises(Refused) as error:
        actions.end_role(role=role)
    assert refused(error) == {"": ["This is the last director. Name another one first."]}
    actions.give_role(user=world.people.coach, role=Role.DIRECTOR)
    actions.end_role(role=role)
    assert [each.user for each in queries.staff_roles().filter(role=Role.DIRECTOR)] == [world.people.coach]


def test_an_ended_role_stays_as_history(world: World) -> None:
    role = world.people.helper.roles.get()
    actions.end_role(role=role)
    role.refresh_from_db()
    assert role.period.upper == queries.today()
    assert queries.actor_of(world.people.helper).helper_of == frozenset()


@pytest.mark.parametrize(("role", "grouped"), [(Role.COACH, False), (Role.READER, True)])
def test_a_coach_has_an_age_group_and_a_reader_has_none(role: Role, grouped: bool) -> None:
    group = AgeGroupFactory() if grouped else None
    with pytest.raises(Refused) as error:
        actions.give_role(user=UserFactory(), role=role, age_group=group)
    assert list(refused(error)) == ["age_group"]
    assert StaffRole.objects.count() == 0


def test_an_account_by_invitation_has_its_address_confirmed() -> None:
    path = actions.invite(email="Nell@Ashmere.example", role=Role.READER, age_group=None, made_by_id=None)
    user = actions.accept_invitation(secret=path.split("/")[2], name="Nell", password="plain words in a row")
    address = user.emailaddress_set.get()
    assert (address.email, address.verified, address.primary) == ("nell@ashmere.example", True, True)
    assert queries.actor_of(user).is_reader


def test_closing_an_account_takes_the_person_and_leaves_the_work(world: World) -> None:
    coach = world.people.coach
    actions.confirm_address(user=coach)
    actions.make_token(user_id=coach.pk)
    actions.make_sign_in_link(user=coach)
    actions.close_account(user=coach)
    coach.refresh_from_db()
    assert (coach.name, coach.is_active, coach.has_usable_password()) == ("Former colleague", False, False)
    assert found_in_tables("Carl Coach") == []
    assert found_in_tables("coach@ashmere.example") == []
    assert queries.tokens_of(coach.pk) == []
    assert queries.staff_roles().filter(user=coach).count() == 0


def test_the_last_administrator_stays(world: World) -> None:
    with pytest.raises(Refused) as error:
        actions.close_account(user=world.people.administrator)
    assert refused(error) == {"": ["This is the last administrator. Name another one first."]}


def test_a_token_is_kept_as_a_hash_and_ended_by_its_owner_only() -> None:
    owner, other = UserFactory(), UserFactory()
    token = actions.make_token(user_id=owner.pk, days=30)
    assert found_in_tables(token) == []
    assert not actions.end_token(user_id=other.pk, beginning=token[:15])
    assert len(list(queries.tokens_of(owner.pk))) == 1
    assert actions.end_token(user_id=owner.pk, beginning=token[:15])
    assert queries.tokens_of(owner.pk) == []


# The club --------------------------------------------------------------------------------------------------


def test_seasons_do_not_overlap() -> None:
    SeasonFactory(name="this one")
    with pytest.raises(Refused) as error:
        actions.add_season(
            name="again", first_day=queries.today(), last_day=queries.today() + timedelta(days=9)
        )
    assert refused(error) == {"first_day": ["These days overlap the season this one."]}


def test_a_role_of_a_new_season_lasts_to_its_last_day() -> None:
    season = actions.add_season(name="long", first_day=date(2026, 7, 1), last_day=date(2027, 6, 30))
    role = actions.give_role(
        user=UserFactory(), role=Role.COACH, age_group=AgeGroupFactory(season=season), since=date(2026, 7, 1)
    )
    role.refresh_from_db()
    assert season.last_day == date(2027, 6, 30)
    assert date(2027, 6, 30) in role.period
    assert date(2027, 7, 1) not in role.period


def test_a_squad_goes_on_into_the_next_season() -> None:
    squad = placed_squad(age_group=AgeGroupFactory(label="U11"))
    last_day = squad.seasons.get().season.last_day
    following = actions.add_season(
        name="next", first_day=last_day + timedelta(days=1), last_day=last_day + timedelta(days=300)
    )
    actions.place_squad(squad=squad, age_group=AgeGroupFactory(season=following, label="U12"))
    assert [each.age_group_label for each in queries.squads(following)] == ["U12"]
    assert [each.age_group_label for each in queries.squads()] == ["U11"]


def test_a_squad_is_found_by_the_age_group_of_this_season_only() -> None:
    """A squad that was in an age group last season is not let in by that old age group."""
    squad = placed_squad(age_group=AgeGroupFactory(label="U11"))
    period = squad.seasons.get().season.period
    before = actions.add_season(
        name="before",
        first_day=period.lower - timedelta(days=300),
        last_day=period.lower - timedelta(days=1),
    )
    old_group = AgeGroupFactory(season=before, label="U10")
    actions.place_squad(squad=squad, age_group=old_group)
    assert list(queries.squads(age_group_ids=[old_group.pk])) == []
    assert [each.pk for each in queries.squads(age_group_ids=[queries.squads()[0].age_group_id])] == [
        squad.pk
    ]


def test_another_figure_needs_another_source() -> None:
    row = GuidelineFactory(value=4, source="The old league")
    with pytest.raises(Refused) as error:
        actions.change_guideline(guideline=row, version=1, value=Decimal(5), source="The old league")
    assert list(refused(error)) == ["source"]
    changed = actions.change_guideline(guideline=row, version=1, value=Decimal(5), source="Our league, 2026")
    assert (changed.value, changed.own) == (Decimal(5), True)


def test_reloading_the_figures_leaves_the_clubs_own() -> None:
    added = actions.load_guidelines()
    row = Guideline.objects.filter(rule=Rule.BALL_SIZE).first()
    actions.change_guideline(guideline=row, version=1, value=Decimal(1), source="Our league, 2026")
    assert actions.load_guidelines() == 0
    assert Guideline.objects.count() == added
    assert Guideline.objects.filter(own=True).count() == 1


def test_a_theme_has_a_key_from_its_title_once() -> None:
    made = actions.add_theme(title="Switch the play!", moment="in possession")
    assert made.key == "switch-the-play"
    with pytest.raises(Refused) as error:
        actions.add_theme(title="switch the play", moment="in possession")
    assert list(refused(error)) == ["title"]
    assert len(queries.themes()) == 1


def test_a_player_in_no_squad_is_listed_among_those_who_left() -> None:
    left = PlayerFactory(display_name="Ada")
    player_in(squad=placed_squad(age_group=AgeGroupFactory()), display_name="Bo")
    assert queries.players_without_squad() == [left]


def test_a_role_begins_and_ends_with_its_days() -> None:
    user = UserFactory()
    role_for(user=user, role=Role.READER)
    assert queries.actor_of(user).is_reader
    assert not queries.actor_of(UserFactory()).is_staff
