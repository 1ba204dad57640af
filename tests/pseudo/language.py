"""A made-up language: each text of the catalogue in brackets, with vowels twice, so that it is about 40 % longer."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

OPENS, CLOSES = "⟦", "⟧"
CODE = "qaa"  # ISO 639 keeps it for private use; what is remembered by language must not give English for it
_INNERMOST = re.compile(f"{OPENS}[^{OPENS}{CLOSES}]*{CLOSES}")
_PUT_IN = re.compile(r"(\{[^}]*\}|%\(\w+\)[a-z]|%[a-z%]|<[^>]*>|&[#\w]+;)")
_VOWELS = re.compile(r"[aeiou]", re.IGNORECASE)


class MadeUp:
    """Stands in for Django's translation of a language, as `django.utils.translation.trans_real` asks it."""

    def __init__(self, real: Any) -> None:
        self.real = real

    def __getattr__(self, name: str) -> Any:
        return getattr(self.real, name)

    def to_language(self) -> str:
        return CODE

    def gettext(self, message: str) -> str:
        said = message.rpartition("\x04")[2]  # before it stands the context of `pgettext`
        return f"{OPENS}{longer(said)}{CLOSES}"

    def ngettext(self, one: str, many: str, number: int) -> str:
        return self.gettext(one if number == 1 else many)


def longer(text: str) -> str:
    """Each vowel twice, but for what is put in and for tags."""
    return "".join(
        each if place % 2 else _VOWELS.sub(lambda found: found.group() * 2, each)
        for place, each in enumerate(_PUT_IN.split(text))
    )


@contextmanager
def spoken() -> Iterator[None]:
    """Everything that is said within, in whichever thread, is said in the made-up language."""
    from django.utils.translation import trans_real

    real = trans_real.translation
    trans_real.translation = lambda language: MadeUp(real(language))
    trans_real._default = None
    trans_real._active.value = trans_real.translation("en-gb")
    try:
        yield
    finally:
        trans_real.translation = real
        trans_real._default = None
        trans_real._active.value = real("en-gb")


def outside(text: str) -> list[str]:
    """What of a text stands outside all brackets, in its order."""
    while (left := _INNERMOST.sub("\n", text)) != text:
        text = left
    return [each.strip() for each in text.split("\n") if each.strip()]
