"""Django's settings.

From the environment: STILLROOM_DATA, STILLROOM_DATABASE_URL, STILLROOM_HOSTS, and no more; `serve --lan` sets
STILLROOM_LAN.
"""

from __future__ import annotations

import os

from stillroom.web.data_dir import secret_key
from stillroom.web.database import database
from stillroom.web.local_zone import local_zone

SECRET_KEY = secret_key()
DEBUG = False
ALLOWED_HOSTS = ["127.0.0.1", "localhost", "[::1]", *filter(None, os.environ.get("STILLROOM_HOSTS", "").split(","))]

LAN = os.environ.get("STILLROOM_LAN", "")  # "http" or "https": open to the house, everybody signs in

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "stillroom.web.frame",
    "stillroom.web.door",
    "stillroom.web.kitchen",
    "stillroom.web.arrivals",
    "stillroom.web.larder",
    "stillroom.web.exchange",
    "stillroom.web.day",
    "stillroom.web.table",
    "stillroom.web.bench",
    "stillroom.web.sources",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "stillroom.web.frame.middleware.ContentPolicy",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "stillroom.web.frame.middleware.OnlyText",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "stillroom.web.door.middleware.SignedIn",
    "stillroom.web.kitchen.middleware.OpenHousehold",
    "stillroom.web.frame.middleware.OneSentence",
]
ROOT_URLCONF = "stillroom.web.urls"
ASGI_APPLICATION = "stillroom.web.asgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.messages.context_processors.messages",
                "stillroom.web.frame.context.frame",
            ],
            "builtins": ["stillroom.web.frame.templatetags.kitchen_words"],
        },
    }
]
FORM_RENDERER = "stillroom.web.frame.forms.Renderer"

DATABASES = {"default": database(os.environ.get("STILLROOM_DATABASE_URL", ""))}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

LANGUAGE_CODE = "en-gb"
USE_I18N = False
USE_TZ = True
TIME_ZONE = local_zone()

STATIC_URL = "static/"
WHITENOISE_USE_FINDERS = True  # served from where they lie: nothing to collect
WHITENOISE_AUTOREFRESH = False
WHITENOISE_MAX_AGE = 300

LOGGING = {  # a fault of ours is told where the program was started
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "loggers": {"django": {"handlers": ["console"], "level": "ERROR", "propagate": False}},
}

SESSION_COOKIE_NAME, CSRF_COOKIE_NAME = "stillroom_session", "stillroom_csrf"  # all of 127.0.0.1 shares one jar
AUTH_USER_MODEL = "door.Member"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]

SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = LAN == "https"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_HTTPONLY = True
CSRF_FAILURE_VIEW = "stillroom.web.frame.failures.form_too_old"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = None  # only heard on https; on plain http a browser complains about it
X_FRAME_OPTIONS = "DENY"
DATA_UPLOAD_MAX_MEMORY_SIZE = 5_000_000
