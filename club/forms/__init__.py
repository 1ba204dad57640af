"""What people type, field by field. Refusals of actions land beside the field; what was typed is kept."""

from club.forms.account import (
    BY_LINK,
    AccountForm,
    ChosenPasswordForm,
    EnterForm,
    ForgottenForm,
    InvitedForm,
    SetUpForm,
    TokenForm,
)
from club.forms.base import ActionForm
from club.forms.club import AgeGroupForm, GuidelineForm, SeasonForm, SettingsForm, ThemeForm
from club.forms.curriculum import BlockForm, TargetsForm, fields_of
from club.forms.places import PitchForm, StockForm, StockItemForm, ZoneForm
from club.forms.squads import (
    MovePlayerForm,
    PlaceSquadForm,
    PlayerForm,
    PlayersForm,
    RenameSquadForm,
    SquadForm,
)
from club.forms.staff import ChecksForm, InviteForm, RoleForm

__all__ = [
    "BY_LINK",
    "AccountForm",
    "ActionForm",
    "AgeGroupForm",
    "BlockForm",
    "ChecksForm",
    "ChosenPasswordForm",
    "EnterForm",
    "ForgottenForm",
    "GuidelineForm",
    "InviteForm",
    "InvitedForm",
    "MovePlayerForm",
    "PitchForm",
    "PlaceSquadForm",
    "PlayerForm",
    "PlayersForm",
    "RenameSquadForm",
    "RoleForm",
    "SeasonForm",
    "SetUpForm",
    "SettingsForm",
    "SquadForm",
    "StockForm",
    "StockItemForm",
    "TargetsForm",
    "ThemeForm",
    "TokenForm",
    "ZoneForm",
    "fields_of",
]
