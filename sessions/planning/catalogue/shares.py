"""How large a share is, in words."""

from drills.game.wording.shapes import gettext_noop as _

# How large a share is, in words that are ours, a judgement: the fraction, then a little less, just so, a little more.
SHARES: tuple[tuple[float, str, str, str], ...] = (
    (1 / 10, _("nearly a tenth"), _("a tenth"), _("just over a tenth")),
    (1 / 5, _("nearly a fifth"), _("a fifth"), _("just over a fifth")),
    (1 / 4, _("nearly a quarter"), _("a quarter"), _("just over a quarter")),
    (1 / 3, _("nearly a third"), _("a third"), _("just over a third")),
    (1 / 2, _("nearly half"), _("half"), _("just over half")),
    (2 / 3, _("nearly two thirds"), _("two thirds"), _("just over two thirds")),
    (3 / 4, _("nearly three quarters"), _("three quarters"), _("just over three quarters")),
    (1.0, _("nearly all"), _("all"), _("all")),
)
LITTLE = _("a little")
ALL = _("all")
