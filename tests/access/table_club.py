"""Rows of the club's pages and endpoints."""

from typing import Any

from club import actions, queries
from club.choices import LinkKind, Role
from tests.access.rows import (
    COACHES,
    DIRECTOR,
    EVERYBODY,
    HELPERS,
    LEADERS,
    PLACES,
    PLANS,
    SIGNED_IN,
    STAFF,
    WORKS,
    Make,
    Row,
    age_group,
    player,
    squad,
)
from tests.factories import GuidelineFactory, PitchFactory, ThemeFactory, ZoneFactory
from tests.people import Place, World

GONE = 302  # a save goes on to another page


def season(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": world.season.public_id}


def pitch(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": PitchFactory().public_id}


def zone(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": ZoneFactory().public_id}


def theme(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": ThemeFactory().public_id}


def block(world: World, place: Place) -> dict[str, Any]:
    season = world.season
    made = actions.add_block(
        season=season, name="A block", first_day=season.period.lower, last_day=season.period.lower
    )
    return {"public_id": made.public_id}


def targets(world: World, place: Place) -> dict[str, Any]:
    return {**block(world, place), "group_id": world.own.age_group.public_id}


def guideline(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": GuidelineFactory().public_id}


def reader(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": world.people.reader.public_id}


def readers_role(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": world.people.reader.roles.get().public_id}


def former_player(world: World, place: Place) -> dict[str, Any]:
    actions.leave_squad(player=place.player)
    return player(world, place)


def out_player(world: World, place: Place) -> dict[str, Any]:
    actions.set_out(player=place.player, by_id=None)
    return player(world, place)


def sign_in_link(world: World, place: Place) -> dict[str, Any]:
    return {"secret": actions.make_sign_in_link(user=world.people.reader).split("/")[2]}


def invitation(world: World, place: Place) -> dict[str, Any]:
    path = actions.invite(email="new@ashmere.example", role=Role.READER, age_group=None, made_by_id=None)
    return {"secret": path.split("/")[2]}


def open_invitation(world: World, place: Place) -> dict[str, Any]:
    invitation(world, place)
    return {"public_id": queries.invitations()[0].public_id}


def set_up_link(world: World, place: Place) -> dict[str, Any]:
    return {"secret": actions.make_link(kind=LinkKind.SET_UP)}


def someones_token(world: World, place: Place) -> dict[str, Any]:
    """A token of the reader: nobody else can end it, whatever their role."""
    token = actions.make_token(user_id=world.people.reader.pk)
    return {"beginning": token[:15]}


def typed(**values: Any) -> Make:
    return lambda world, place: values


def to_own_squad(world: World, place: Place) -> dict[str, Any]:
    return {"to": str(place.squad.public_id)}


def a_page(name: str, may: frozenset[str], kwargs: Make | None = None, **more: Any) -> Row:
    return Row(f"club:{name}", may, **({"kwargs": kwargs} if kwargs else {}), **more)


def a_button(name: str, may: frozenset[str], kwargs: Make | None = None, **more: Any) -> Row:
    return a_page(name, may, kwargs, method="post", through=more.pop("through", GONE), **more)


NEW_ACCOUNT = {"name": "Nell New", "password": "plain words in a row", "again": "plain words in a row"}
KEPT = {"at": PLACES, "reach": PLANS}

ROWS = [
    # Ways in
    a_page("enter", EVERYBODY, sign_in_link),
    a_button("enter", EVERYBODY, sign_in_link),
    a_page("invited", EVERYBODY, invitation),
    a_button("invited", EVERYBODY, invitation, data=typed(**NEW_ACCOUNT)),
    a_page("set-up", EVERYBODY, set_up_link),
    a_button("set-up", EVERYBODY, set_up_link, data=typed(email="first@ashmere.example", **NEW_ACCOUNT)),
    # One's own account
    a_page("account", SIGNED_IN),
    a_button("account", SIGNED_IN, data=typed(name="Another Name")),
    a_button("token-add", SIGNED_IN, data=typed(days="30"), through=200),
    a_button(
        "token-end",
        SIGNED_IN,
        someones_token,
        reach={name: frozenset() for name in SIGNED_IN - {"reader"}},
    ),
    # The club
    a_page("home", STAFF),
    a_page("settings", LEADERS),
    a_button("settings", LEADERS, through=200),
    a_page("season-add", LEADERS),
    a_page("season", STAFF, season),
    a_page("age-group-add", LEADERS, season),
    a_page("age-groups", STAFF),
    a_page("age-group", STAFF, age_group, at=PLACES),
    a_page("age-group-change", LEADERS, age_group, at=PLACES),
    a_page("pitches", STAFF),
    a_page("pitch-add", LEADERS),
    a_page("pitch-change", LEADERS, pitch),
    a_page("pitch-retire", LEADERS, pitch),
    a_button("pitch-retire", LEADERS, pitch, data=typed(version="1")),
    a_page("zone-add", LEADERS, pitch),
    a_page("zone-change", LEADERS, zone),
    a_page("kit", STAFF),
    a_button("kit", LEADERS),
    a_page("kit-add", LEADERS),
    a_button("kit-add", LEADERS, data=typed(kind="hoops", count="6")),
    a_page("themes", STAFF),
    a_page("theme-add", LEADERS),
    a_page("theme-change", LEADERS, theme),
    a_page("blocks", STAFF),
    a_page("block-add", LEADERS),
    a_page("block-change", LEADERS, block),
    a_page("block-remove", LEADERS, block),
    a_button("block-remove", LEADERS, block, data=typed(version="1")),
    a_page("block-targets", LEADERS, targets),
    a_button("block-targets", LEADERS, targets, data=typed(version="1")),
    a_button("season-divide", LEADERS),
    a_page("guidelines", STAFF),
    a_page("guideline-add", LEADERS),
    a_page("guideline-change", LEADERS, guideline),
    a_page("staff", STAFF),
    a_page("invite", LEADERS),
    a_button("invite", LEADERS, data=typed(email="n@ashmere.example", role="reader"), through=200),
    a_button("withdraw", LEADERS, open_invitation),
    a_page("role-give", LEADERS, reader),
    a_page("staff-checks", DIRECTOR, reader),
    a_button("staff-checks", DIRECTOR, reader, data=typed(version="1", of_age="on")),
    a_page("role-end", LEADERS, readers_role),
    a_page("account-close", LEADERS, reader),
    a_button("role-end", LEADERS, readers_role),
    a_button("account-close", LEADERS, reader),
    a_button("sign-in-link", LEADERS, reader, through=200),
    # Squads and players
    a_page("squads", STAFF),
    a_page("squad-add", LEADERS),
    a_page("squad", STAFF, squad, at=PLACES, names=WORKS),
    a_page("squad-change", LEADERS, squad, at=PLACES),
    a_page("squad-place", LEADERS, squad, at=PLACES),
    a_button("squad-retire", LEADERS, squad, at=PLACES),
    a_page("squad-players-add", COACHES, squad, **KEPT),
    a_button("squad-players-add", COACHES, squad, data=typed(lines="8 Nia\nOmar 9"), **KEPT),
    a_page("squad-player", COACHES, player, names=PLANS, **KEPT),
    a_button("squad-player", COACHES, player, data=typed(version="1", display_name="Nia"), **KEPT),
    a_button("squad-player-move", COACHES, player, data=to_own_squad, **KEPT),
    a_button("squad-player-leave", COACHES, player, **KEPT),
    a_button("squad-player-erase", COACHES, player, **KEPT),
    a_button("squad-player-out", HELPERS, player, at=PLACES, reach=WORKS),
    a_button("squad-player-lift", COACHES, out_player, **KEPT),
    Row("api-player-out", HELPERS, kwargs=player, at=PLACES, reach=WORKS),
    Row("api-player-out", HELPERS, "post", kwargs=player, at=PLACES, reach=WORKS),
    Row("api-player-out", COACHES, "delete", kwargs=out_player, at=PLACES, reach=PLANS),
    a_page("squads-left", DIRECTOR),
    a_page("readings", DIRECTOR),
    a_button("squads-left-back", DIRECTOR, former_player, at=PLACES, data=to_own_squad),
    a_button("squads-left-erase", DIRECTOR, former_player, at=PLACES),
    # The API
    Row("api-age-groups", STAFF),
    Row("api-age-group", STAFF, kwargs=age_group, at=PLACES),
    Row("api-squads", STAFF),
    Row("api-squad", STAFF, kwargs=squad, at=PLACES),
    Row("api-players", HELPERS, kwargs=squad, at=PLACES, reach=WORKS, names=WORKS),
    Row("api-pitches", STAFF),
    Row("api-kit", STAFF),
    Row("api-themes", STAFF),
    Row("api-guidelines", STAFF),
]
