"""Names of people and teams in a page: each isolated, so that one written from right to left turns nothing else round."""

from collections.abc import Iterable

from django import template
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

register = template.Library()


@register.filter
def isolated(name: object) -> SafeString:
    """A name among other words."""
    return format_html("<bdi>{}</bdi>", name)


@register.filter
def names(found: Iterable[object]) -> SafeString:
    """Names in a row."""
    return format_html_join(", ", "<bdi>{}</bdi>", ((each,) for each in found))
