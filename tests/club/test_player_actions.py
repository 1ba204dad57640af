"""What is done with players, and what is refused."""

from datetime import date

import pytest
from django.apps import apps

from club import actions, queries
from club.choices import NamesOn
from club.errors import Refused
from club.models import AccessLog, PlayerSquad
from tests.club.looking import found_in_tables
from tests.factories import (
    AgeGroupFactory,
    SquadFactory,
    UserFactory,
    placed_squad,
    player_in,
)

pytestmark = pytest.mark.django_db


def refused(error: pytest.ExceptionInfo[Refused]) -> dict[str, list[str]]:
    return error.value.by_field()


# Players ---------------------------------------------------------------------------------------------------


def test_a_shirt_is_worn_once_in_a_squad() -> None:
    squad = placed_squad(age_group=AgeGroupFactory())
    player_in(squad=squad, display_name="Ada", shirt=7)
    with pytest.raises(Refused) as error:
        actions.add_player(squad=squad, display_name="Bo", shirt=7)
    assert refused(error) == {"shirt": ["Number 7 is worn by Ada."]}
    assert queries.players_of([squad.pk])[0].display_name == "Ada"


def test_the_same_shirt_is_free_in_another_squad_and_after_leaving() -> None:
    group = AgeGroupFactory()
    one, other = placed_squad(age_group=group), placed_squad(age_group=group)
    ada = player_in(squad=one, display_name="Ada", shirt=7)
    actions.add_player(squad=other, display_name="Bo", shirt=7)
    actions.leave_squad(player=ada)
    actions.add_player(squad=one, display_name="Cy", shirt=7)
    assert [each.display_name for each in queries.players_of([one.pk])] == ["Cy"]


@pytest.mark.parametrize(
    ("line", "name", "shirt"),
    [
        ("7 Ada", "Ada", 7),
        ("7. Ada B", "Ada B", 7),
        ("Ada B 12", "Ada B", 12),
        ("Ada, 12", "Ada", 12),
        ("  Ada-Lou  ", "Ada-Lou", None),
    ],
)
def test_a_line_is_a_name_and_a_number_on_either_side(line: str, name: str, shirt: int | None) -> None:
    (player,) = actions.add_players(squad=placed_squad(age_group=AgeGroupFactory()), lines=line)
    assert (player.display_name, player.shirt) == (name, shirt)


def test_of_several_players_all_are_added_or_none() -> None:
    squad = placed_squad(age_group=AgeGroupFactory())
    with pytest.raises(Refused) as error:
        actions.add_players(squad=squad, lines="7 Ada\n\n7 Bo\n12\nCy 120")
    assert refused(error) == {
        "lines": [
            "Line 2: Number 7 is worn by Ada.",
            "Line 3: “12” should be a name with one shirt number at most.",
            "Line 4: A shirt number is from 1 to 99.",
        ]
    }
    assert queries.players_of([squad.pk]) == []


def test_nobody_and_too_many_players_are_refused() -> None:
    squad = placed_squad(age_group=AgeGroupFactory())
    with pytest.raises(Refused) as none:
        actions.add_players(squad=squad, lines=" \n ")
    with pytest.raises(Refused) as crowd:
        actions.add_players(squad=squad, lines="Ada\n" * 500)
    assert refused(none) == {"lines": ["Write one player a line."]}
    assert refused(crowd) == {"lines": ["At most 40 at once; these are 500."]}


def test_moving_keeps_the_time_in_the_old_squad() -> None:
    group = AgeGroupFactory()
    old, new = placed_squad(age_group=group), placed_squad(age_group=group)
    ada = player_in(squad=old, since=date(2020, 1, 1))
    actions.move_player(player=ada, version=1, to=new)
    today = queries.today()
    periods = {
        row.squad_id: (row.period.lower, row.period.upper) for row in PlayerSquad.objects.filter(player=ada)
    }
    assert periods == {old.pk: (date(2020, 1, 1), today), new.pk: (today, None)}
    assert queries.players_of([old.pk]) == []


def test_somebody_added_by_mistake_today_leaves_no_time_behind() -> None:
    squad = placed_squad(age_group=AgeGroupFactory())
    ada = actions.add_player(squad=squad, display_name="Ada")
    actions.leave_squad(player=ada)
    assert PlayerSquad.objects.filter(player=ada).count() == 0


def test_erasing_takes_the_name_from_the_row_and_its_history_and_nothing_else() -> None:
    squad = placed_squad(age_group=AgeGroupFactory())
    other = player_in(squad=squad, display_name="Bo", shirt=8)
    ada = actions.add_player(squad=squad, display_name="Ada", shirt=7, is_keeper=True, since=date(2024, 1, 1))
    actions.change_player(
        player=ada, squad=squad, version=1, display_name="Adelheid", shirt=9, is_keeper=True
    )
    actions.note_reading(user_id=UserFactory().pk, squad_ids=[squad.pk], page=NamesOn.SQUAD)

    actions.erase_player(player=ada)

    ada.refresh_from_db()
    history = apps.get_model("club", "PlayerEvent").objects
    assert (ada.display_name, ada.shirt, ada.is_keeper) == ("Former player", None, True)
    assert set(history.filter(pgh_obj_id=ada.pk).values_list("display_name", "shirt")) == {
        ("Former player", None)
    }
    assert history.filter(pgh_obj_id=ada.pk).count() == 3
    assert list(history.filter(pgh_obj_id=other.pk).values_list("display_name", "shirt")) == [("Bo", 8)]
    assert [each.display_name for each in queries.players_of([squad.pk])] == ["Bo"]
    assert PlayerSquad.objects.filter(player=ada).count() == 1
    assert AccessLog.objects.count() == 1
    assert found_in_tables("Adelheid") == []
    assert found_in_tables("Bo") != []


def test_reading_is_noted_once_in_twelve_hours_for_each_page() -> None:
    user, squad = UserFactory(), SquadFactory()
    for page in (NamesOn.SQUAD, NamesOn.SQUAD, NamesOn.TURNS):
        actions.note_reading(user_id=user.pk, squad_ids=[squad.pk], page=page)
    assert sorted(AccessLog.objects.values_list("page", flat=True)) == ["squad", "turns"]
