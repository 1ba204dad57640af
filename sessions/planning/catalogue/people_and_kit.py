"""Adults that are needed, who counts as one, and kit that is short."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "clear_adults_more": _("{more} more would do."),
        "clear_stations": _("{more} more, or as many stations fewer, would do."),
        "clear_kit": _("{short} more would do, or a set-up that needs fewer."),
        "adults_short": CountedWording(
            "there",
            *ngettext(
                "{players} players need {needed} adults; {there} is down for it.",
                "{players} players need {needed} adults; {there} are down for it.",
            ),
        ),
        "helpers_not_counted": CountedWording(
            "count",
            *ngettext(
                "{count} helper under 18 does not count as an adult.",
                "{count} helpers under 18 do not count as adults.",
            ),
        ),
        "parent_stopgap": _("A parent who stays is a stopgap for tonight: not vetted, so not counted."),
        "adult_under_18": _("{name} is not counted as an adult: not marked as 18 or over."),
        "adult_no_vetting": _("{name} is not counted as an adult: no vetting date is entered."),
        "adult_vetting_over": _("{name} is not counted as an adult: the vetting has run out by then."),
        "clear_staff_dates": _("The director enters it under Staff."),
        "keepers_no_second": _("The keepers work separately and no second adult is near."),
        "keepers_out_of_sight": _("The keepers work separately on {pitch}, out of sight of a second adult."),
        "clear_keepers_sight": _("Put them on the same pitch, or stand a second adult with the keepers."),
        "stations_short_of_adults": CountedWording(
            "there",
            *ngettext(
                "{stations} stations at the same time and {there} adult: one adult each is wanted.",
                "{stations} stations at the same time and {there} adults: one adult each is wanted.",
            ),
        ),
        "kit_short": _("{needed} × {kind} needed at the same time, {there} there: {short} short."),
        "kit_unknown": _("{needed} × {kind} needed; the club's kit list does not have it."),
        "stations_without_adult": CountedWording(
            "stations",
            *ngettext(
                "{stations} station has no adult of its own yet.",
                "{stations} stations have no adult of their own yet.",
            ),
        ),
        "adult_twice": _("{name} is down for {stations} stations at the same time."),
    }
)
