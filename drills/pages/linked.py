"""A shared drill as linked data in the words of schema.org: how to do it, and what is learnt by it."""

import json
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from club.ages import years_of
from drills.choices import kit_word
from drills.game.document import DrillDocument
from drills.pages.drill import DrillPage

# What would end a script's text, or start a tag, is written as an escape that JSON reads alike.
_ESCAPES = {ord(mark): f"\\u{ord(mark):04x}" for mark in "<>&\u2028\u2029"}


def linked_data(page: DrillPage) -> SafeString:
    """JSON-LD: HowTo and LearningResource (schema.org). No person is named."""
    return mark_safe(json.dumps(_described(page), ensure_ascii=False).translate(_ESCAPES))


def _described(page: DrillPage) -> dict[str, Any]:
    doc = page.doc
    steps = [*doc.say_this, *page.start, *(each.text for each in page.conditions), *page.restarts]
    tools = [f"{count} {kit_word(kind, count)}" for kind, count in page.kit]
    described: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": ["HowTo", "LearningResource"],
        "name": doc.title,
        "description": doc.purpose,
        "learningResourceType": page.activity,
        "teaches": [title for _key, title in page.themes] or [doc.purpose],
        "prepTime": f"PT{doc.setup_minutes}M",
        "performTime": f"PT{doc.work.minutes}M",
        "totalTime": f"PT{doc.setup_minutes + doc.work.minutes}M",
        "tool": [{"@type": "HowToTool", "name": each} for each in tools],
        "step": [
            {"@type": "HowToStep", "position": place, "text": text} for place, text in enumerate(steps, 1)
        ],
    }
    ages = _ages(doc)
    return described | ({"typicalAgeRange": ages} if ages else {})


def _ages(doc: DrillDocument) -> str:
    """`11-14`, `11-`: as schema.org writes a range of ages, in years on the reference date."""
    if doc.under_from is None:
        return ""
    oldest = years_of(doc.under_to) if doc.under_to else ""
    return f"{years_of(doc.under_from)}-{oldest}"
