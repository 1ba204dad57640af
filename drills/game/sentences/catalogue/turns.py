"""How players change places in a set-up."""

from drills.game.sentences.entries import Counted, Wordings, entries, ngettext
from drills.game.sentences.entries import gettext_noop as _

TURNS: Wordings = {
    "join_queue": _("Join the queue after each go."),
    "inside_and_outside": _("Inside and outside change places within each side after every bout."),
    "neutrals_in_turn": Counted(
        "neutrals",
        *ngettext(
            "{neutrals:words} neutral in turn: change after every bout.",
            "{neutrals:words} neutrals in turn: change after every bout.",
        ),
    ),
    "neutrals_and_resting": Counted(
        "neutrals",
        *ngettext(
            "{neutrals:words} neutral and {waiting:words} resting in turn: change after every bout.",
            "{neutrals:words} neutrals and {waiting:words} resting in turn: change after every bout.",
        ),
    ),
    "whole_teams": _("{who}: {shares:commas}; change after every bout."),
    "loan_in": _(
        "Teams of {teams:words}: change after every bout; when the {neutrals:words} come in, "
        "one of those going out stays in with them on loan."
    ),
    "loan_out": _(
        "Teams of {teams:words}: change after every bout; when the {neutrals:words} come in, "
        "one of them stays outside on loan."
    ),
    "side_up_changes": _("The side that is a player up changes after every bout."),
    "roles_change": _("Change roles after every bout, so that everyone has each of them."),
}
PARTS: Wordings = {
    "turns_in": _("{format}: {turns}"),
    "teams_of": _("{teams:words} teams of {players:words}"),
    "players": Counted("n", *ngettext("{n:words} player", "{n:words} players")),
    "play": _("{n:words} play"),
    "are_neutral": Counted("n", *ngettext("{n:words} is neutral", "{n:words} are neutral")),
    "rest": Counted("n", *ngettext("{n:words} rests", "{n:words} rest")),
}
ENTRIES = entries(wholes=TURNS, parts=PARTS)
