"""Pictures of a session: titles, and descriptions for those who don't see them."""

from drills.game.wording.shapes import CountedWording, entries, ngettext
from drills.game.wording.shapes import gettext_noop as _

ENTRIES = entries(
    parts={
        "section_title": CountedWording(
            "parts",
            *ngettext("{name}: {parts} part, {minutes} min.", "{name}: {parts} parts, {minutes} min."),
        ),
        "section_part": _("{number} {title}: {minutes} min, effort {effort}."),
        "section_link": _("To part {number}, {title}"),
        "section_changeovers": _("Changeovers: {minutes} min."),
        "section_over": _("Over the budget by {share:word} of it."),
        "section_name": _("Session"),
        "week_name": _("Week"),
        "week_title": _("{name}: {load_au} AU."),
        "week_title_of": _("{name}: {load_au} AU of {budget_au} AU."),
        "week_day": _("{day}: {kinds}"),
        "week_day_load": _("{day}: {kinds}, {load_au} AU"),
        "week_day_estimated": _("{day}: {kinds} (estimated)"),
        "week_day_load_estimated": _("{day}: {kinds}, {load_au} AU (estimated)"),
        "week_training": _("training"),
        "week_match": _("match"),
        "week_tournament": _("tournament"),
        "week_elsewhere": _("elsewhere"),
        "week_rest": _("rest"),
        "week_no_load": _("no load"),
        "week_dashed": _("dashed: estimated"),
        "week_budget": _("budget {budget_au} AU"),
        "week_sum": _("{load_au} AU"),
        "week_sum_over": _("{load_au} of {budget_au} AU, {apart_au} over"),
        "week_sum_spare": _("{load_au} of {budget_au} AU, {apart_au} to spare"),
    }
)
