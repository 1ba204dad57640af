"""Answers that are remembered in the process that gave them, bounded by the bytes that they take.

A number of entries says nothing: a set-up takes 2 kB, a ladder with its plans 200. What is small, bounded by itself, and
asked for thousands of times in one answer (a word's width, a bib's shape, the formats of some number of players) stays with `lru_cache`.
"""

import gc
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from threading import Lock
from types import FunctionType, ModuleType
from typing import Any, TypeVar, cast

from cachetools import LRUCache, cached

MIB = 1024**2
MOST_PARTS = 100_000  # of one answer that are weighed: beyond, it is too large to be kept anyway
Function = TypeVar("Function", bound=Callable[..., Any])


@dataclass(frozen=True)
class Known:
    """One cache of this process."""

    name: str
    cache: LRUCache[Any, Any]


KNOWN: list[Known] = []


def size_of(value: object) -> int:
    """The bytes of memory that a value takes with all that it holds, each part counted once; never less than 1."""
    seen: set[int] = set()
    waiting, total = [value], 1
    while waiting and len(seen) < MOST_PARTS:
        each = waiting.pop()
        if id(each) in seen or isinstance(each, type | ModuleType | FunctionType):
            continue
        seen.add(id(each))
        total += each.__sizeof__()
        waiting.extend(gc.get_referents(each))
    return total


def remembered(*, most_bytes: int, key: Callable[..., Hashable]) -> Callable[[Function], Function]:
    """Remember what a pure function answers. `key` takes the same arguments and says what the answer depends on.

    Only the key and the answer are kept, so a large argument (a document beside its digest) is let go. Of answers that
    take more bytes together, the one that was not asked for longest goes first; an answer that is larger alone is not kept.
    """

    def decorate(function: Function) -> Function:
        cache: LRUCache[Any, Any] = LRUCache(maxsize=most_bytes, getsizeof=size_of)
        KNOWN.append(Known(f"{function.__module__}.{function.__qualname__}", cache))
        return cast(Function, cached(cache, key=key, lock=Lock())(function))

    return decorate


def is_remembered(function: Callable[..., Any], *args: Any, **kwargs: Any) -> bool:
    """Whether a function that is `remembered` has the answer for these arguments at hand. It works nothing out."""
    kept: Any = function
    return kept.cache_key(*args, **kwargs) in kept.cache
