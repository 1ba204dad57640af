"""Every answer of the API that a test asks for is held against the struct that describes it, value by value."""

from datetime import datetime
from typing import Any

import msgspec


def check_answers() -> None:
    """Have the API refuse, in this process, to answer what its description does not say."""
    from club import api_described

    make = api_described.built

    def checked(shape: Any) -> Any:
        made = make(shape)
        for each, plain in zip(shape, made, strict=True) if isinstance(shape, list) else [(shape, made)]:
            msgspec.convert(plain, type(each), builtin_types=(datetime,))
        return made

    api_described.built = checked
