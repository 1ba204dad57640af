"""Mail: asked for here, written and handed over by the worker.

A mail server that is slow or away then holds nobody's page up, the worker tries again, and asking for a new password
takes the same way and time whether anybody has the address or not. What waits in the queue names a person by number and
holds no link: links are made when the mail is written.
"""

from collections.abc import Callable
from email.utils import formataddr, parseaddr
from typing import Any

from allauth.account.forms import default_token_generator
from allauth.account.models import EmailAddress, EmailConfirmationHMAC
from allauth.account.utils import user_pk_to_url_str
from django.conf import settings
from django.core.mail import EmailMessage
from django.db import connection
from django.template.loader import render_to_string
from django.urls import reverse
from procrastinate.contrib.django import app

from club.actions.jobs import QUICK
from club.models import User
from club.queries.people import user_by_email
from club.queries.settings import club_now, club_settings

TASK = "club.send_mail"
PASSWORD_LINK = "account/email/password_reset_key"
CONFIRMATION = "account/email/email_confirmation"


def ask_for_password_link(*, email: str) -> None:
    """Have a link to a new password sent to whoever has this address; nobody learns whether anybody has."""
    user = user_by_email(email)
    post(kind=PASSWORD_LINK, user_id=user.pk if user else None)


def post(*, kind: str, user_id: int | None, **facts: str | int) -> None:
    """Have the worker send a mail. `kind` names its templates, `facts` what stands in it: nothing secret."""
    if settings.MAIL_IS_SET:
        app.configure_task(TASK, queue=QUICK).defer(kind=kind, user_id=user_id, facts={**facts})


def send_mail(*, kind: str, user_id: int | None, facts: dict[str, Any]) -> bool:
    """Write a mail and hand it over. False where there is nobody to send it to (any more).

    Raises OSError where the server is away or refuses; SMTP's own errors are such.
    """
    user = User.objects.filter(pk=user_id, is_active=True).first()
    written = user and _MORE.get(kind, _notice)(user, facts)
    if not user or written is None:
        return False
    to, more = written
    context = {"user": user, "site": settings.SITE_URL, "moment": club_now(), **facts, **more}
    subject, body = (render_to_string(f"{kind}_{part}.txt", context) for part in ("subject", "message"))
    EmailMessage(" ".join(subject.split()), body.strip() + "\n", _sender(), [to]).send()
    return True


def forget_mail(*, user_id: int) -> None:
    """Take back what waits for somebody who leaves, and what was sent: an address may stand in it."""
    with connection.cursor() as cursor:
        cursor.execute(
            "DELETE FROM procrastinate_jobs WHERE task_name = %s AND args->>'user_id' = %s AND status <> 'doing'",
            [TASK, str(user_id)],
        )


def _notice(user: User, facts: dict[str, Any]) -> tuple[str, dict[str, Any]]:
    """To the person's address; of a change of address, to the one that was left."""
    return facts.get("to", user.email), {}


def _password_link(user: User, facts: dict[str, Any]) -> tuple[str, dict[str, Any]]:
    parts = {"uidb36": user_pk_to_url_str(user), "key": default_token_generator.make_token(user)}
    path = reverse("account_reset_password_from_key", kwargs=parts)
    return user.email, {"link": settings.SITE_URL + path, "hours": settings.PASSWORD_RESET_TIMEOUT // 3600}


def _confirmation(user: User, facts: dict[str, Any]) -> tuple[str, dict[str, Any]] | None:
    address = EmailAddress.objects.filter(pk=facts["address_id"], user=user, verified=False).first()
    if address is None:
        return None
    path = reverse("account_confirm_email", args=[EmailConfirmationHMAC.create(address).key])
    return address.email, {"link": settings.SITE_URL + path}


_MORE: dict[str, Callable[[User, dict[str, Any]], tuple[str, dict[str, Any]] | None]] = {
    PASSWORD_LINK: _password_link,
    CONFIRMATION: _confirmation,
}


def _sender() -> str:
    """The club's name stands before the address, unless the setting gives another."""
    name, address = parseaddr(settings.DEFAULT_FROM_EMAIL)
    return formataddr((name or club_settings().name, address))
