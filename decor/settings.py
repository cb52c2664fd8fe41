"""Settings of Garlandwright. Secrets and places come from the environment, see README."""

from pathlib import Path

import font_hanken_grotesk
import font_source_serif_pro
from csp.constants import SELF

from decor import env
from decor.database import database_settings
from decor.mail_settings import mail_settings

BASE_DIR = Path(__file__).resolve().parent.parent
VAR_DIR = BASE_DIR / "var"
VAR_DIR.mkdir(exist_ok=True)

DEBUG = env.flag("DEBUG")
SECRET_KEY = env.secret("SECRET_KEY")
ALLOWED_HOSTS = env.words("ALLOWED_HOSTS", "127.0.0.1,localhost")
BEHIND_HTTPS = env.flag("BEHIND_HTTPS")
# Whatever serves it over HTTPS is a proxy: not to heed it would redirect for ever.
PROXY_COUNT = env.number("PROXY_COUNT", 1 if BEHIND_HTTPS else 0)
# What stands before the addresses in letters, which no request is there to tell.
SITE_URL = env.text(
    "SITE_URL", f"https://{ALLOWED_HOSTS[0]}" if BEHIND_HTTPS else "http://127.0.0.1:8000"
).rstrip("/")

INSTALLED_APPS = [
    "decor",
    "inventory",
    "quoting",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.forms",
    "django_include_bootstrap",
    "crispy_forms",
    "crispy_bootstrap5",
    "django_htmx",
    "axes",
    "csp",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "quoting.client_page.guard.ClientPageMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.auth.middleware.LoginRequiredMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "decor.business.middleware.BusinessMiddleware",
    "decor.crew.access.HelperMiddleware",
    "quoting.bench.telling.BenchMiddleware",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "decor.urls"
WSGI_APPLICATION = "decor.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "decor.business.context.business",
            ],
        },
    },
]
FORM_RENDERER = "django.forms.renderers.TemplatesSetting"
CRISPY_ALLOWED_TEMPLATE_PACKS = "bootstrap5"
CRISPY_TEMPLATE_PACK = "bootstrap5"

DATABASES = {
    "default": database_settings(
        env.text("DATABASE_URL", f"sqlite:///{VAR_DIR / 'garlandwright.sqlite3'}")
    )
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator"},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
LOGIN_URL = "login"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "login"

# By name alone a stranger could lock the owner out.
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_FAILURE_LIMIT = 8
AXES_COOLOFF_TIME = 0.25  # hours
AXES_LOCKOUT_TEMPLATE = "registration/locked_out.html"
AXES_CLIENT_IP_CALLABLE = "decor.throttle.addresses.address_of"

# Each under the name that Django knows it by.
globals().update(mail_settings(env.text("EMAIL_URL", "")))
DEFAULT_FROM_EMAIL = env.text("DEFAULT_FROM_EMAIL", "")

LANGUAGE_CODE = "en-us"
TIME_ZONE = "UTC"  # stored and default; pages are shown in the business's own zone
USE_I18N = False
USE_TZ = True

STATIC_URL = "static/"
STATICFILES_DIRS = [
    ("fonts/source-serif", Path(font_source_serif_pro.__file__).parent / "files"),
    ("fonts/hanken-grotesk", Path(font_hanken_grotesk.__file__).parent / "files"),
]
# Files come straight from the packages: no collecting step stands between a clone and a page.
WHITENOISE_USE_FINDERS = True
MEDIA_ROOT = Path(env.text("MEDIA_ROOT", str(VAR_DIR / "media")))
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_621_440
FILE_UPLOAD_MAX_MEMORY_SIZE = 5_242_880

SECURE_REFERRER_POLICY = "same-origin"  # "no-referrer" would break the CSRF check in Chromium
SECURE_CONTENT_TYPE_NOSNIFF = True
X_FRAME_OPTIONS = "DENY"
CSRF_FAILURE_VIEW = "decor.errors.csrf_failure"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = BEHIND_HTTPS
SECURE_SSL_REDIRECT = BEHIND_HTTPS
SECURE_HSTS_SECONDS = 31_536_000 if BEHIND_HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = BEHIND_HTTPS
if PROXY_COUNT:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "base-uri": [SELF],
        "form-action": [SELF],
        "frame-ancestors": ["'none'"],
        "object-src": ["'none'"],
    }
}

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
}
