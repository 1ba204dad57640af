"""A row of the table of roles and actions: one route and method, who gets through, and whose names may be read.

Other rooms add a module `table_<room>.py` here with `ROWS: list[Row]`; every route of the room needs a row.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from tests.people import NAMES, Place, World

EVERYBODY = frozenset(NAMES)
SIGNED_IN = EVERYBODY - {"nobody"}
STAFF = SIGNED_IN - {"stranger"}
LEADERS = frozenset({"director", "administrator"})
DIRECTOR = frozenset({"director"})
COACHES = frozenset({"director", "coach", "colleague"})
HELPERS = COACHES | {"helper"}

PLACES = ("own", "colleague", "foreign")
ANYWHERE = frozenset(PLACES)
NOWHERE: frozenset[str] = frozenset()
OWN = frozenset({"own"})
COLLEAGUES = frozenset({"colleague"})

# Where a person plans, and where a person reads names.
PLANS = {"director": ANYWHERE, "coach": OWN, "colleague": COLLEAGUES}
WORKS = {**PLANS, "helper": OWN}

Make = Callable[[World, Place], dict[str, Any]]


def nothing(world: World, place: Place) -> dict[str, Any]:
    return {}


@dataclass(frozen=True)
class Row:
    """One route and method.

    `may`: who has the role. `reach`: at which places each gets through; who isn't named gets through everywhere.
    `kwargs` and `data` are made once for a place; what each person does there is undone. `names`: where each may read players' names.
    """

    route: str
    may: frozenset[str]
    method: str = "get"
    kwargs: Make = nothing
    data: Make = nothing
    at: tuple[str, ...] = ("own",)
    reach: Mapping[str, frozenset[str]] = field(default_factory=dict)
    through: int = 200
    names: Mapping[str, frozenset[str]] = field(default_factory=dict)
    of_others: bool = False  # the names shown are those of the other places

    @property
    def is_api(self) -> bool:
        return self.route.startswith("api-")

    def expected(self, person: str, place: str) -> int:
        """The status that this person gets at this place."""
        if person in self.may:
            return self.through if place in self.reach.get(person, ANYWHERE) else 404
        if person == "nobody":
            return 401 if self.is_api else 302
        return 403

    def __str__(self) -> str:
        return f"{self.method} {self.route}"


def squad(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": place.squad.public_id}


def player(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": place.player.public_id}


def age_group(world: World, place: Place) -> dict[str, Any]:
    return {"public_id": place.age_group.public_id}
