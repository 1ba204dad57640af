"""The process that sets one sheet: an order on standard input, pages on standard output. See `typeset`."""

from __future__ import annotations

import os
import resource
import sys
from importlib.resources import files
from typing import Any

import msgspec
import typst

from sessions.sheet.typeset import MEMORY_BYTES, NICER_BY, PROCESSOR_S, Order


def limit_myself() -> None:
    """Take no more memory and time than a sheet needs: then this process ends, and not another."""
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    resource.setrlimit(resource.RLIMIT_CPU, (PROCESSOR_S, PROCESSOR_S))
    os.nice(NICER_BY)


def pages(order: Order) -> list[bytes]:
    """Set the order. A PDF is PDF/UA-1, unless a letter is in no font at hand, which the standard forbids: paper is worth more."""
    if order.format == "png":
        made = _compile(order, format="png", ppi=order.ppi)
        return [made] if isinstance(made, bytes) else list(made)
    try:
        return [_compile(order, format="pdf", pdf_standards="ua-1", timestamp=order.stamp)]
    except typst.TypstError:
        return [_compile(order, format="pdf", timestamp=order.stamp)]


def _compile(order: Order, **options: Any) -> Any:
    fonts = typst.Fonts(font_paths=[str(files("font_lato") / "files")])
    return typst.compile({"main": order.files[order.main], **order.files}, font_paths=fonts, **options)


if __name__ == "__main__":
    limit_myself()
    wanted = msgspec.msgpack.decode(sys.stdin.buffer.read(), type=Order)
    sys.stdout.buffer.write(msgspec.msgpack.encode(pages(wanted)))
