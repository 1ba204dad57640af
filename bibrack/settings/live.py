"""Settings of a running Bibrack. Everything that differs between machines comes from the environment.

`SITE_URL` is the one address: hosts, trusted origins and secure cookies follow from it. A secret may stand in a file
named by `<NAME>_FILE`. Bad values fail at the start, loudly.
"""

import os
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import dj_database_url
from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured
from environs import Env

from bibrack.mail import mail_server, sender
from bibrack.postgres.where import data_dir, database_url
from club.limits import BODY_BYTES

BASE_DIR = Path(__file__).resolve().parent.parent.parent
env = Env()


DATA_DIR = data_dir(os.environ, BASE_DIR)


def secret_key() -> str:
    """`SECRET_KEY`, the file that `SECRET_KEY_FILE` names, or the one that `make run` made in the data folder."""
    named = env.str("SECRET_KEY", "")
    path = Path(env.str("SECRET_KEY_FILE", str(DATA_DIR / "secret_key")))
    if named or not path.is_file():
        return named or env.str("SECRET_KEY")  # the second fails with the variable's name
    return path.read_text(encoding="utf-8").strip()


def database() -> str:
    """The database's address; a clear refusal when there is none."""
    found = database_url(os.environ, BASE_DIR)
    if found is None:
        raise ImproperlyConfigured("No database: set DATABASE_URL, or start one with `make run`.")
    return found


VERSION = "0.1.0.dev0"
DEBUG = env.bool("DEBUG", False)
SHOW_STYLEGUIDE = DEBUG
SECRET_KEY = secret_key()
SITE_URL = env.str("SITE_URL", f"http://localhost:{env.int('PORT', 8000)}").rstrip("/")
_site = urlsplit(SITE_URL)
if _site.scheme not in ("http", "https") or not _site.hostname:
    raise ValueError(f"SITE_URL must be an address such as https://club.example, not {SITE_URL!r}")
SECURE = _site.scheme == "https"
ALLOWED_HOSTS = sorted({_site.hostname, *([] if SECURE else ["localhost", "127.0.0.1", "[::1]"])})
CSRF_TRUSTED_ORIGINS = [SITE_URL]
TRUSTED_PROXIES = env.int("TRUSTED_PROXIES", 0)

INSTALLED_APPS = [
    "bibrack.apps.BibrackConfig",
    "sessions.apps.TrainingConfig",
    "drills.apps.DrillsConfig",
    "club.apps.ClubConfig",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.contrib.postgres",
    "rest_framework",
    "drf_spectacular",
    "knox",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "django_htmx",
    "csp",
    "pgtrigger",
    "pghistory",
    "procrastinate.contrib.django",
]

MIDDLEWARE = [
    "bibrack.middleware.RequestLog",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "bibrack.middleware.NotKept",
    "bibrack.middleware.SmallText",
    "csp.middleware.CSPMiddleware",
    "club.middleware.KeepableCookies",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "club.middleware.AccessFirst",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "club.middleware.ActorMiddleware",
    "bibrack.middleware.Conflicts",
    "bibrack.middleware.History",
]

ROOT_URLCONF = "bibrack.urls"
WSGI_APPLICATION = "bibrack.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "builtins": ["club.templatetags.names"],
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "bibrack.pages.everywhere",
            ],
        },
    }
]

DATABASES = {
    "default": {
        **dj_database_url.parse(database()),
        "CONN_HEALTH_CHECKS": True,
        "OPTIONS": {
            "pool": {"min_size": 1, "max_size": env.int("DATABASE_POOL", 8), "timeout": 10},
            # Who waits for somebody else's save is told so, before the statement as a whole has taken too long.
            "options": "-c lock_timeout=2s -c statement_timeout=" + env.str("STATEMENT_TIMEOUT", "5s"),
        },
    }
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
CACHES: dict[str, dict[str, Any]] = {
    "default": {
        "BACKEND": "django.core.cache.backends.db.DatabaseCache",
        "LOCATION": "shared_cache",
        # Above this it throws live rows away to make room, and with them what is counted against too many tries.
        "OPTIONS": {"MAX_ENTRIES": 50_000},
    },
}

AUTH_USER_MODEL = "club.User"
AUTHENTICATION_BACKENDS = [
    "django.contrib.auth.backends.ModelBackend",
    "allauth.account.auth_backends.AuthenticationBackend",
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]
LOGIN_URL = "/accounts/login/"
LOGIN_REDIRECT_URL = "/"
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*", "password2*"]
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_USER_MODEL_EMAIL_FIELD = "email"
ACCOUNT_ADAPTER = "club.adapter.InvitedOnly"
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_CHANGE_EMAIL = True  # one address each: a new one takes the place of the old once it is confirmed
ACCOUNT_EMAIL_NOTIFICATIONS = True
ACCOUNT_FORMS = {
    "reset_password": "club.forms.ForgottenForm",
    "change_password": "club.forms.ChosenPasswordForm",
}
PASSWORD_RESET_TIMEOUT = 60 * 60 * 4
ACCOUNT_SESSION_REMEMBER = True
ACCOUNT_LOGOUT_ON_GET = False
ACCOUNT_RATE_LIMITS = {
    "login": "20/m/ip",
    "login_failed": "5/m/key,20/m/ip",
    # Each of these sends mail to an address that somebody typed.
    "reset_password": "20/m/ip,5/h/key",
    "manage_email": "20/h/user",
}
ALLAUTH_TRUSTED_PROXY_COUNT = TRUSTED_PROXIES
MFA_SUPPORTED_TYPES = ["totp", "recovery_codes"]
SESSION_COOKIE_AGE = 60 * 60 * 24 * 60
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE
SESSION_COOKIE_NAME = "bibrack_session"
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
SECURE_HSTS_SECONDS = 60 * 60 * 24 * 30 if SECURE else 0
SECURE_REFERRER_POLICY = "same-origin"
if TRUSTED_PROXIES:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
X_FRAME_OPTIONS = "DENY"

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "img-src": [SELF, "data:"],
        "object-src": [NONE],
        "base-uri": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
    }
}

# Without a server for mail nothing offers what needs it, and nothing is sent.
_mail = mail_server(os.environ)
MAIL_IS_SET = _mail is not None
DEFAULT_FROM_EMAIL = SERVER_EMAIL = sender(os.environ, _site.hostname)
EMAIL_BACKEND = f"django.core.mail.backends.{'smtp' if _mail else 'dummy'}.EmailBackend"
if _mail:
    EMAIL_HOST, EMAIL_PORT = _mail.host, _mail.port
    EMAIL_HOST_USER, EMAIL_HOST_PASSWORD = _mail.user, _mail.password
    EMAIL_USE_TLS, EMAIL_USE_SSL = _mail.starttls, _mail.implicit_tls
EMAIL_TIMEOUT = 10

LANGUAGE_CODE = "en-gb"
LANGUAGES = [("en-gb", "English")]
LOCALE_PATHS = [BASE_DIR / "locale"]
USE_I18N = True
USE_TZ = True
TIME_ZONE = env.str("TIME_ZONE", "Europe/London")
FIRST_DAY_OF_WEEK = 1

STATIC_URL = "static/"
STATIC_ROOT = Path(env.str("STATIC_ROOT", str(DATA_DIR / "static")))
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "bibrack.static_files.NamedByContent"},
}

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "club.api_access.ByToken",
        "club.api_access.SignedIn",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["club.api_access.Decided"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["club.api_parsers.JsonParser"],
    "DEFAULT_PAGINATION_CLASS": "club.api_tools.Pages",
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "EXCEPTION_HANDLER": "club.problems.handler",
    "DEFAULT_THROTTLE_CLASSES": ["club.api_access.TokenRate"],
    "DEFAULT_THROTTLE_RATES": {"token": "120/min"},
    "NUM_PROXIES": TRUSTED_PROXIES,
    "UNAUTHENTICATED_USER": None,
}
REST_KNOX = {"TOKEN_TTL": None, "AUTH_HEADER_PREFIX": "Token", "TOKEN_MODEL": "knox.AuthToken"}
KNOX_TOKEN_MODEL = "knox.AuthToken"
SPECTACULAR_SETTINGS = {
    "TITLE": "Bibrack",
    "VERSION": "1",
    "OAS_VERSION": "3.1.0",
    "SERVE_INCLUDE_SCHEMA": False,
    "SCHEMA_PATH_PREFIX": "/api/v1",
    "COMPONENT_SPLIT_REQUEST": True,
    "ENUM_NAME_OVERRIDES": {
        "SessionState": "sessions.choices.State",
        "SessionKind": "sessions.choices.Kind",
        "PartKind": "sessions.choices.PartKind",
        "AtEdge": "club.choices.AtEdge",
        "FixedGoalSize": "club.choices.FixedGoalKind",
        "GroundEdge": "club.choices.EDGES",
    },
}
DATA_UPLOAD_MAX_MEMORY_SIZE = BODY_BYTES

LOGGING_CONFIG = "bibrack.logs.configure"
LOGGING: dict[str, str] = {"level": env.str("LOG_LEVEL", "INFO")}
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"
TEST_RUNNER = "django.test.runner.DiscoverRunner"
