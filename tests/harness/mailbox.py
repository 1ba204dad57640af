"""A mail server of a test's own: a real one, on a free port of this machine."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from email import message_from_bytes, policy
from email.message import EmailMessage
from typing import Any

from aiosmtpd.controller import Controller
from aiosmtpd.smtp import AuthResult, LoginPassword

from tests.harness.free_port import free_port

USER, PASSWORD = "club@club.example", "open sesame"


class Mailbox:
    """What was handed over, in order; with `refuses`, an answer to give instead of taking it."""

    def __init__(self) -> None:
        self.messages: list[EmailMessage] = []
        self.refuses = ""
        self.port = 0

    async def handle_DATA(self, server: Any, session: Any, envelope: Any) -> str:
        if self.refuses:
            return self.refuses
        self.messages.append(message_from_bytes(envelope.content, policy=policy.default))
        return "250 taken"

    def last(self) -> tuple[str, str, str]:
        """To whom, what about, and the text."""
        found = self.messages[-1]
        return str(found["To"]), str(found["Subject"]), found.get_content()

    def link(self) -> str:
        """The path of the link in the last mail."""
        found = re.findall(r"http://localhost:8000(/\S+)", self.last()[2])
        return next(path for path in found if path != "/")


@contextmanager
def mailbox() -> Iterator[Mailbox]:
    """Serve a mailbox that takes mail from whoever knows USER and PASSWORD."""
    box = Mailbox()

    def known(server: Any, session: Any, envelope: Any, mechanism: str, data: LoginPassword) -> AuthResult:
        return AuthResult(success=(data.login, data.password) == (USER.encode(), PASSWORD.encode()))

    controller = Controller(
        box,
        hostname="127.0.0.1",
        port=free_port(),
        authenticator=known,
        auth_required=True,
        auth_require_tls=False,
    )
    controller.start()
    try:
        box.port = controller.port
        yield box
    finally:
        controller.stop()
