from club.models.club import AgeGroup, ClubSettings, Guideline, Season, Theme
from club.models.curriculum import Block, ThemeTarget
from club.models.place import BibStock, KitStock, Pitch, Zone
from club.models.records import AccessLog, IdempotencyRecord, OneTimeLink
from club.models.squads import Player, PlayerOut, PlayerSquad, Squad, SquadSeason
from club.models.staff import StaffChecks, StaffRole, User

__all__ = [
    "AccessLog",
    "AgeGroup",
    "BibStock",
    "Block",
    "ClubSettings",
    "Guideline",
    "IdempotencyRecord",
    "KitStock",
    "OneTimeLink",
    "Pitch",
    "Player",
    "PlayerOut",
    "PlayerSquad",
    "Season",
    "Squad",
    "SquadSeason",
    "StaffChecks",
    "StaffRole",
    "Theme",
    "ThemeTarget",
    "User",
    "Zone",
]
