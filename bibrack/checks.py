"""System checks of the whole: each with an id and a hint."""

from typing import Any

from django.conf import settings
from django.core.checks import CheckMessage, Error, Warning, register


@register()
def database_is_postgres(app_configs: Any, **kwargs: Any) -> list[CheckMessage]:
    engine = settings.DATABASES["default"]["ENGINE"]
    if engine.endswith("postgresql"):
        return []
    return [
        Error(
            f"The database is {engine}; Bibrack needs PostgreSQL 15 or newer.",
            hint="Set DATABASE_URL to postgres://…, or leave it out to use the embedded one.",
            id="bibrack.E001",
        )
    ]


@register(deploy=True)
def site_url_is_secure(app_configs: Any, **kwargs: Any) -> list[CheckMessage]:
    if settings.SITE_URL.startswith("https://") or "localhost" in settings.SITE_URL:
        return []
    return [
        Warning(
            f"SITE_URL is {settings.SITE_URL}: without https phones can't keep the pitch page awake or offline.",
            hint="Put a proxy with TLS in front, see the container set-up in README.md.",
            id="bibrack.W001",
        )
    ]
