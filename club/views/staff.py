"""Who works with whom; invitations by link; roles."""

from uuid import UUID

from django.contrib import messages
from django.contrib.auth import logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from club import actions, lasting, pages, queries
from club.access import DIRECTOR, LEADERS, STAFF, found, who_may
from club.choices import LinkKind
from club.errors import Refused
from club.forms import ChecksForm, InviteForm, RoleForm
from club.letters import isolated
from club.queries.leaving import Leaving
from club.views.pages import do, form_page, leaving_page, said, typed


@who_may(STAFF)
def staff(request: HttpRequest) -> HttpResponse:
    """Everybody with their roles; addresses and open invitations for leaders only."""
    leads, directs = request.actor.leads, request.actor.is_director
    people = (queries.staff_with_checks if directs else queries.people)(with_no_role=leads)
    context = {
        "people": people,
        "needs": pages.date_needs(queries.running_out(people)) if directs else [],
        "invitations": queries.invitations() if leads else [],
    }
    return render(request, "club/staff.html", context)


@who_may(LEADERS)
def invite(request: HttpRequest) -> HttpResponse:
    """Make a link to pass on by hand; the answer is the only page that shows it."""
    form = InviteForm(typed(request), age_groups=queries.age_groups())
    if form.done_by(actions.invite, made_by_id=request.actor.user_id):
        return _handed_out(request, form.result, form.cleaned_data["email"], LinkKind.INVITATION)
    lasts = lasting.in_words(lasting.LINKS[LinkKind.INVITATION])
    lead = _("You get a link to pass on as you like: it works once, within {lasts}.").format(lasts=lasts)
    back = reverse("club:staff")
    return form_page(request, form, title=_("Invite somebody"), verb=_("Make the link"), back=back, lead=lead)


@who_may(LEADERS)
@require_POST
def sign_in_link(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """For a colleague who has forgotten the password: a link to pass on by hand."""
    user = found(queries.user(public_id))
    try:
        link = actions.hand_out_sign_in_link(actor=request.actor, user=user)
    except Refused as refused:
        messages.error(request, str(refused))
        return redirect("club:staff")
    return _handed_out(request, link, user.name, LinkKind.SIGN_IN)


def _handed_out(request: HttpRequest, path: str, whose: str, kind: LinkKind) -> HttpResponse:
    """The only page that shows a link which was just made."""
    lasts = lasting.in_words(lasting.LINKS[kind])
    context = {"link": request.build_absolute_uri(path), "whose": whose, "lasts": lasts}
    return render(request, "club/link_made.html", context)


@who_may(LEADERS)
@require_POST
def withdraw(request: HttpRequest, public_id: UUID) -> HttpResponse:
    link = found(queries.invitation(public_id))
    words = _("The invitation works no more.")
    return do(request, words, "club:staff", action=lambda: actions.withdraw_invitation(link=link))


@who_may(LEADERS)
def give_role(request: HttpRequest, public_id: UUID) -> HttpResponse:
    user = found(queries.user(public_id))
    form = RoleForm(typed(request), age_groups=queries.age_groups())
    if form.done_by(actions.give_role, user=user):
        return said(request, _("The role is given."), "club:staff")
    title = _("A role for %(name)s") % {"name": isolated(user.name)}
    return form_page(request, form, title=title, verb=_("Give the role"), back=reverse("club:staff"))


@who_may(DIRECTOR)
def checks(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Until when somebody's vetting, safeguarding and first aid hold."""
    user = found(queries.user(public_id))
    form = ChecksForm.of(queries.checks_of(user), typed(request))
    if form.done_by(actions.save_checks, user=user):
        return said(request, _("Saved."), "club:staff")
    title = _("Dates of %(name)s") % {"name": isolated(user.name)}
    lead = _("Nothing else is saved: no certificate, no number, no birthday.")
    return form_page(request, form, title=title, verb=_("Save"), back=reverse("club:staff"), lead=lead)


@who_may(LEADERS)
def end_role(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Asked first, with what it would leave uncovered."""
    role = found(queries.role_of_today(public_id))
    if request.method != "POST":
        lead = _("{role} {group}: what they wrote stays.").format(
            role=role.get_role_display(), group=role.age_group.label if role.age_group else ""
        )
        title = _("Remove a role of {name}?").format(name=role.user.name)
        words = {"title": title, "lead": lead, "verb": _("Remove the role"), "back": reverse("club:staff")}
        return leaving_page(request, Leaving(role_id=role.pk), **words)
    return do(request, _("The role has ended."), "club:staff", action=lambda: actions.end_role(role=role))


@who_may(LEADERS)
def close_account(request: HttpRequest, public_id: UUID) -> HttpResponse:
    """Asked first, with what it would leave uncovered."""
    user = found(queries.user(public_id))
    if request.method != "POST":
        lead = _("Name, address and roles go for good; drills and sessions stay, without the name.")
        title = _("Close the account of {name}?").format(name=isolated(user.name))
        asked = {"title": title, "lead": lead, "verb": _("Close the account"), "back": reverse("club:staff")}
        return leaving_page(request, Leaving(user_id=user.pk), **asked)
    words = _("The account is closed. What they wrote stays, without their name.")
    response = do(request, words, "club:staff", action=lambda: actions.close_account(user=user))
    if user.pk == request.user.pk and queries.user(public_id) is None:
        logout(request)  # one's own session ended with the account
    return response
