"""Django's settings, drawn from the environment that `config.environment` has checked."""

from typing import Literal
from urllib.parse import unquote, urlsplit

import dj_database_url

from config.bounds import FILES, PARTS
from config.cookies import cookie_name
from config.environment import ROOT, read_environment
from config.file_modes import keep_private, private_folder
from config.languages.available import LANGUAGES as SPOKEN
from config.languages.catalogue import FOLDER as CATALOGUES
from config.languages.catalogue import build_catalogues
from config.store import storages
from config.unencrypted import checked_tls
from config.var import broker_socket, secret_key

keep_private()
ENVIRONMENT = read_environment()
VAR = ENVIRONMENT.studbay_var
private_folder(VAR)
build_catalogues(CATALOGUES)

SECRET_KEY = ENVIRONMENT.secret_key or secret_key(VAR)
SECRET_KEY_FALLBACKS = ENVIRONMENT.secret_key_fallbacks
DEBUG = ENVIRONMENT.debug
ALLOWED_HOSTS = ENVIRONMENT.allowed_hosts
CSRF_TRUSTED_ORIGINS = ENVIRONMENT.csrf_trusted_origins

INSTALLED_APPS = [
    "config",
    "jobs",
    "inspections",
    "notifications",
    "audit",
    "api",
    "pages",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.forms",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "django_filters",
    "rest_framework",
    "drf_spectacular",
    "drf_spectacular_sidecar",
]

MIDDLEWARE = [
    "config.observe.observe_middleware",
    "config.security_log.door_middleware",
    "config.middleware.policy_middleware",
    "config.middleware.tls_middleware",
    "config.middleware.method_middleware",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "config.middleware.unkept_middleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "config.languages.choice.language_middleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "config.middleware.origin_middleware",
    "allauth.account.middleware.AccountMiddleware",
    "pages.account.presence.presence_middleware",
    "pages.account.required_factors.required_middleware",
    "config.bounds.bounds_middleware",
    "config.limits.limit_middleware",
    "config.middleware.text_middleware",
    "pages.refusals.refusal_middleware",
]
if ENVIRONMENT.studbay_traces_url:
    MIDDLEWARE.insert(1, "config.traces.trace_middleware")  # within the one that gives the id

AUTHENTICATION_BACKENDS = ["django.contrib.auth.backends.ModelBackend"]
ACCOUNT_ADAPTER = "pages.account.adapter.AccountAdapter"
ACCOUNT_LOGIN_METHODS = {"username"}
ACCOUNT_SIGNUP_FIELDS = ["username*", "password1*"]
ACCOUNT_EMAIL_VERIFICATION = "none"  # an address is kept once its mail was answered
ACCOUNT_SESSION_REMEMBER = True
PASSWORD_RESET_TIMEOUT = 3 * 60 * 60  # seconds
ACCOUNT_LOGIN_TIMEOUT = 600  # seconds from the password to the code
ACCOUNT_REAUTHENTICATION_TIMEOUT = 600  # seconds
ACCOUNT_EMAIL_UNKNOWN_ACCOUNTS = False
ACCOUNT_USER_DISPLAY = str
ACCOUNT_FORMS = {
    "change_password": "pages.account.forms.ChangeForm",
    "login": "pages.account.forms.SignInForm",
    "reset_password": "pages.account.forms.ForgottenForm",
    "reset_password_from_key": "pages.account.forms.NewPasswordForm",
}
ACCOUNT_RATE_LIMITS = {
    # Wrong passwords: by place, whatever the name, and by name within a place. The library counts
    # by name alone; then anybody keeps a named person out. See `pages.account.adapter`.
    "login_failed": "50/15m/ip,10/15m/key",
    "login": "120/m/ip",
    "reauthenticate": "30/15m/user",
    "change_password": "10/15m/user",
    "reset_password": "20/15m/ip,5/15m/key",
    "reset_password_from_key": "30/15m/ip",
}
MFA_ADAPTER = "pages.account.adapter.MFAAdapter"
MFA_SUPPORTED_TYPES = ["totp", "recovery_codes", "webauthn"]
MFA_PASSKEY_LOGIN_ENABLED = True
MFA_TOTP_TOLERANCE = 1
MFA_TOTP_ISSUER = "Studbay"
MFA_RECOVERY_CODE_DIGITS = 12
MFA_RATE_LIMITS = {"webauthn_login": "120/m/ip"}
MFA_FORMS = {
    "authenticate": "pages.account.forms.CodeForm",
    "authenticate_webauthn": "pages.account.forms.PasskeyAsCode",
    "login_webauthn": "pages.account.forms.ByPasskeyForm",
}
ALLAUTH_TRUSTED_PROXY_COUNT = ENVIRONMENT.studbay_proxies

ROOT_URLCONF = "config.urls"
WSGI_APPLICATION = "config.wsgi.application"
AUTH_USER_MODEL = "jobs.Person"
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "/"
LOGOUT_REDIRECT_URL = "account_login"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "pages.navigation.places",
                "pages.account.language.languages",
            ]
        },
    }
]

# Widgets are drawn by our templates, which say the words of choices.
FORM_RENDERER = "django.forms.renderers.TemplatesSetting"

if ENVIRONMENT.cluster:
    _database = dj_database_url.parse(ENVIRONMENT.database_url, conn_max_age=60)
    # A wire that is cut says nothing: without these a request waits a quarter of an hour for it.
    _database["OPTIONS"] = {
        "connect_timeout": 5,  # seconds
        "tcp_user_timeout": 10_000,  # milliseconds
        "keepalives_idle": 10,
        "keepalives_interval": 3,
        "keepalives_count": 3,
        **checked_tls(ENVIRONMENT.database_url),
    } | _database.get("OPTIONS", {})
else:
    _database = {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": str(VAR / "studbay.sqlite3"),
        "OPTIONS": {
            # A writer waits for its turn at BEGIN instead of failing in mid-transaction.
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL;",
        },
    }
DATABASES = {"default": _database}

PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.ScryptPasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "jobs.passwords.NotBreached"},
    {"NAME": "jobs.passwords.NotOfThisPlace"},
]

SESSION_ENGINE = "config.sessions"
SESSION_COOKIE_AGE = int(
    max(ENVIRONMENT.studbay_idle_days_crew * 24, ENVIRONMENT.studbay_idle_hours) * 3600
)

LANGUAGE_CODE = "en"
LANGUAGES = SPOKEN
LOCALE_PATHS = [CATALOGUES]
LANGUAGE_COOKIE_NAME = cookie_name("studbay_language", https=ENVIRONMENT.https)
LANGUAGE_COOKIE_AGE = 365 * 24 * 60 * 60  # seconds
LANGUAGE_COOKIE_SECURE = ENVIRONMENT.https
LANGUAGE_COOKIE_SAMESITE: Literal["Lax"] = "Lax"
USE_TZ = True
TIME_ZONE = "UTC"

STATIC_URL = "static/"
STATIC_ROOT = VAR / "static"
private_folder(STATIC_ROOT)
STATICFILES_DIRS = [ROOT / "static"]
WHITENOISE_USE_FINDERS = True

# Served by a view that asks who wants to see it, never from an address of its own.
MEDIA_ROOT = VAR / "kept"
STORAGES = storages(ENVIRONMENT, MEDIA_ROOT)
FILE_UPLOAD_PERMISSIONS = 0o600
FILE_UPLOAD_DIRECTORY_PERMISSIONS = 0o700
DATA_UPLOAD_MAX_MEMORY_SIZE = FILES  # what holds no files has less: config/bounds.py
DATA_UPLOAD_MAX_NUMBER_FILES = PARTS

SECURE_SSL_REDIRECT = ENVIRONMENT.https
SECURE_REDIRECT_EXEMPT = [r"^api/", r"^metrics$"]  # refused: config/middleware.py
SESSION_COOKIE_NAME = cookie_name("sessionid", https=ENVIRONMENT.https)
SESSION_COOKIE_SECURE = ENVIRONMENT.https
CSRF_COOKIE_NAME = cookie_name("csrftoken", https=ENVIRONMENT.https)
CSRF_COOKIE_SECURE = ENVIRONMENT.https
CSRF_COOKIE_HTTPONLY = True  # scripts take the token from their page
MESSAGE_STORAGE = "config.cookies.MessageStorage"
SECURE_HSTS_SECONDS = 31_536_000 if ENVIRONMENT.https else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = ENVIRONMENT.https
SECURE_HSTS_PRELOAD = ENVIRONMENT.https
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if ENVIRONMENT.https else None
X_FRAME_OPTIONS = "DENY"

CELERY_BROKER_URL = ENVIRONMENT.redis_url or f"redis+socket://{broker_socket(VAR)}"
CELERY_BEAT_SCHEDULE = {
    name: {
        "task": task,
        "schedule": ENVIRONMENT.studbay_sweep_seconds,
        "options": {"expires": 600},
    }
    for name, task in (
        ("settle-due", "inspections.settle_due"),
        ("notices-tick", "notifications.tick"),
        ("plans-due", "inspections.make_plans_due"),
        ("packs-due", "inspections.make_packs_due"),
        ("carry-answers", "inspections.carry_answers"),
        ("answers-over", "api.forget_answers"),
        ("audit", "audit.go_on"),
    )
}

SITE_URL = ENVIRONMENT.studbay_site or f"http://{ENVIRONMENT.studbay_listen}"
DEFAULT_FROM_EMAIL = ENVIRONMENT.studbay_mail_from
EMAIL_TIMEOUT = 10  # seconds
EMAIL_FILE_PATH = VAR / "messages"
EMAIL_BACKEND = "notifications.channels.mail_files.FiledEmailBackend"
if ENVIRONMENT.studbay_mail_url:
    _mail = urlsplit(ENVIRONMENT.studbay_mail_url)
    EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    EMAIL_HOST = _mail.hostname
    EMAIL_PORT = _mail.port or {"smtp": 587, "smtps": 465, "smtp+plain": 25}[_mail.scheme]
    EMAIL_HOST_USER, EMAIL_HOST_PASSWORD = (
        unquote(_mail.username or ""),
        unquote(_mail.password or ""),
    )
    EMAIL_USE_TLS, EMAIL_USE_SSL = _mail.scheme == "smtp", _mail.scheme == "smtps"

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "api.tokens.TokenAuthentication",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": [
        "rest_framework.permissions.IsAuthenticated",
        "api.tokens.WithinScope",
    ],
    "DEFAULT_THROTTLE_CLASSES": ["api.throttle.PerToken"],
    "DEFAULT_THROTTLE_RATES": {"token": f"{ENVIRONMENT.studbay_calls_a_minute}/min"},
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["api.parsers.ShallowJSONParser"],
    "DEFAULT_SCHEMA_CLASS": "api.operations.Operations",
    "EXCEPTION_HANDLER": "api.faults.problem",
}
CACHES: dict[str, dict[str, object]] = {
    "default": {
        "BACKEND": "django.core.cache.backends.locmem.LocMemCache",
        "OPTIONS": {"MAX_ENTRIES": 10_000},
    }
}
if ENVIRONMENT.redis_url:  # calls are counted together by all processes
    CACHES = {
        "default": {
            "BACKEND": "config.cache.ForgivingRedisCache",
            "LOCATION": ENVIRONMENT.redis_url.replace("redis+socket://", "unix://"),
            "KEY_PREFIX": "studbay-cache",
        }
    }
SPECTACULAR_SETTINGS = {
    "TITLE": "Studbay",
    "DESCRIPTION": "What is roughed in, what the code requires, and what still holds the drywall.",
    "VERSION": "1",
    "OAS_VERSION": "3.1.1",
    "SERVE_INCLUDE_SCHEMA": False,
    "COMPONENT_SPLIT_REQUEST": True,
    "POSTPROCESSING_HOOKS": [
        "drf_spectacular.hooks.postprocess_schema_enums",
        "api.schema.with_findings",
    ],
    "SWAGGER_UI_DIST": "SIDECAR",
    "ENUM_NAME_OVERRIDES": {  # two fields of one name with choices of their own
        "InsulationKind": "inspections.models.INSULATIONS",
        "InspectionKind": "inspections.models.InspectionKind",
        "PlanState": "jobs.models.Plan.State",
        "TickState": "inspections.services.walks.TickState",
    },
}

# SQLite cannot hold "one row where the start is empty"; the service that writes drive times does.
# An hour of the day that is a default is meant so; Django doubts it when it is that hour just now.
SILENCED_SYSTEM_CHECKS = ["models.W047", "fields.W161"]

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {
        "text": {
            "()": "config.observe.TextLines",
            "format": "%(asctime)s %(levelname)s %(message)s",
        },
        "json": {"()": "config.observe.JsonLines"},
    },
    "handlers": {
        "console": {"class": "logging.StreamHandler", "formatter": ENVIRONMENT.studbay_log},
    },
    "root": {"handlers": ["console"], "level": ENVIRONMENT.studbay_log_level.upper()},
    "loggers": {
        # One way out for every line: handlers of their own would write what ours takes out.
        "django": {"handlers": [], "level": "NOTSET"},
        "gunicorn.error": {"handlers": [], "level": "NOTSET", "propagate": True},
        "gunicorn.access": {"handlers": [], "level": "INFO", "propagate": True},
        "waitress.queue": {"level": "ERROR"},  # that requests wait for a thread is no news
        # Who came in and who was refused is told whatever the level is.
        "studbay.security": {"level": "INFO"},
        # What they tell in detail are values of columns, all that a template was given, and
        # addresses and headers with keys.
        "django.db.backends": {"level": "INFO"},
        "django.template": {"level": "INFO"},
        "urllib3": {"level": "ERROR"},
        **{
            name: {"level": "INFO"} for name in ("boto3", "botocore", "opentelemetry", "s3transfer")
        },
    },
}
