"""Who is asking: a small value built once per request from the account and the roles that hold today."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Actor:
    """What somebody may do. Age groups are known by their inner id."""

    user_id: int | None = None
    account: str = ""  # its outer id, as a phone knows whose it is
    name: str = ""
    email: str = ""
    pace_m: float | None = None
    is_administrator: bool = False
    is_director: bool = False
    is_reader: bool = False
    coach_of: frozenset[int] = frozenset()
    helper_of: frozenset[int] = frozenset()

    @property
    def is_signed_in(self) -> bool:
        return self.user_id is not None

    @property
    def is_coach(self) -> bool:
        return bool(self.coach_of)

    @property
    def is_staff(self) -> bool:
        """Has any role in the club today."""
        return self.is_director or self.is_reader or bool(self.coach_of or self.helper_of)

    @property
    def leads(self) -> bool:
        """Sets up the club for everybody: seasons, places, kit, roles."""
        return self.is_director or self.is_administrator

    @property
    def age_groups(self) -> frozenset[int]:
        """The age groups that this person coaches or helps."""
        return self.coach_of | self.helper_of

    def plans_for(self, age_group_id: int | None) -> bool:
        """May write sessions of this age group."""
        return self.is_director or age_group_id in self.coach_of

    def works_with(self, age_group_id: int | None) -> bool:
        """May see the players of this age group and record at the pitch."""
        return self.is_director or age_group_id in self.age_groups


NOBODY = Actor()
