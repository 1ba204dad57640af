"""Who works with whom; invitations by link; roles."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from club import actions, queries
from club.access import LEADERS, STAFF, found, who_may
from club.forms import InviteForm, RoleForm
from club.views.pages import do, form_page, said, typed


@who_may(STAFF)
def staff(request: HttpRequest) -> HttpResponse:
    """Everybody with their roles; addresses and open invitations for leaders only."""
    leads = request.actor.leads
    context = {
        "people": queries.people(with_no_role=leads),
        "invitations": queries.invitations() if leads else [],
    }
    return render(request, "club/staff.html", context)


@who_may(LEADERS)
@never_cache
def invite(request: HttpRequest) -> HttpResponse:
    """Make a link to pass on by hand; the answer is the only page that shows it."""
    form = InviteForm(typed(request), age_groups=queries.age_groups())
    if form.done_by(actions.invite, made_by_id=request.actor.user_id):
        context = {"link": request.build_absolute_uri(form.result), "email": form.cleaned_data["email"]}
        return render(request, "club/invitation.html", context)
    lead = _("You get a link to pass on as you like: it works once, within a week.")
    back = reverse("club:staff")
    return form_page(request, form, title=_("Invite somebody"), verb=_("Make the link"), back=back, lead=lead)


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
    title = _("A role for %(name)s") % {"name": user.name}
    return form_page(request, form, title=title, verb=_("Give the role"), back=reverse("club:staff"))


@who_may(LEADERS)
@require_POST
def end_role(request: HttpRequest, public_id: UUID) -> HttpResponse:
    role = found(queries.role_of_today(public_id))
    return do(request, _("The role has ended."), "club:staff", action=lambda: actions.end_role(role=role))


@who_may(LEADERS)
@require_POST
def close_account(request: HttpRequest, public_id: UUID) -> HttpResponse:
    user = found(queries.user(public_id))
    words = _("The account is closed. What they wrote stays, without their name.")
    return do(request, words, "club:staff", action=lambda: actions.close_account(user=user))
