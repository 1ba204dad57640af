"""Settings for tests: the same installation, with a fast password hasher and a watch for N+1 queries."""

import os

os.environ.setdefault("SECRET_KEY", "only-for-tests")

from bibrack.settings.live import *  # noqa: F403
from bibrack.settings.live import DATABASES, INSTALLED_APPS, MIDDLEWARE

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
INSTALLED_APPS = [*INSTALLED_APPS, "zeal"]
MIDDLEWARE = ["zeal.middleware.zeal_middleware", *MIDDLEWARE]
ZEAL_RAISE = True
# Signing out reads the session once to know who it is and once to delete it: the framework's own doing.
# So is confirming another address, which asks each of the two whose it is.
ZEAL_ALLOWLIST = [
    {"model": "sessions.Session", "field": "get()"},
    {"model": "account.EmailAddress", "field": "user"},
]
SHOW_STYLEGUIDE = True
# Every test client loads the middleware anew: static files are looked up when asked for, not all at each start.
WHITENOISE_AUTOREFRESH = True
ALLOWED_HOSTS = ["*"]
CSRF_TRUSTED_ORIGINS = ["http://localhost"]
DATABASES["default"]["OPTIONS"].pop("pool")
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
LOGGING = {"level": "ERROR"}
