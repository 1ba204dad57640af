"""The base of every piece of the document, and the lengths that text may have."""

from typing import Annotated

import msgspec


class Shape(msgspec.Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A frozen piece of a document: unknown fields are refused, so a typing error never passes silently.

    `kw_only` is not inherited in msgspec and mypy wants `frozen` repeated, so each piece says both itself.
    """


Key = Annotated[str, msgspec.Meta(min_length=1, max_length=40, pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]*$")]
Line = Annotated[str, msgspec.Meta(min_length=1, max_length=120)]
Sentence = Annotated[str, msgspec.Meta(min_length=1, max_length=300)]
Paragraph = Annotated[str, msgspec.Meta(max_length=2000)]
Metres = Annotated[float, msgspec.Meta(gt=0, le=130)]
Count = Annotated[int, msgspec.Meta(ge=0, le=200)]
