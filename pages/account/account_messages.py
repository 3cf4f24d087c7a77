"""What signing in and one's account say."""

from config.messages.message import message

WRONG = message("account.name-or-password-wrong", "Wrong name or password. Check both.")
PASSWORD_WRONG = message(
    "account.password-wrong", "Wrong password. Type the password you sign in with."
)
CODE_WRONG = message(
    "account.code-wrong",
    "That code is wrong or was already used. Type the code your phone shows now.",
)
PASSKEY_WRONG = message(
    "account.passkey-wrong", "The passkey did not work. Try again, or use another way."
)
TOO_MANY_PASSWORDS = message(
    "account.too-many-passwords",
    "Too many wrong passwords from your network. Wait 15 minutes, or use a passkey.",
)
TOO_MANY_TRIES = message(
    "account.too-many-tries", "Too many tries. Wait 15 minutes, then try again."
)
LINK_OVER = message(
    "account.link-over", "This link has expired or was already used. Request a new one."
)

RESET_SUBJECT = message("account.reset-subject", "Reset your Studbay password")
MAIL_SUBJECT = message("account.mail-subject", "Confirm your e-mail address for Studbay")
MAIL_SENT = message("account.mail-sent", "Link sent to {address}. Open it to confirm the address.")
ELSEWHERE_OUT = message("account.elsewhere-out", "You are signed out everywhere else.")
PASSWORD_CHANGED = message(
    "account.password-changed", "Password changed. You are signed out everywhere else."
)
PASSWORD_NEW = message("account.password-new", "New password saved. Sign in with it.")

PASSKEY_ADDED = message("account.passkey-added", "Passkey added. Sign in with it from now on.")
PASSKEY_REFUSED = message(
    "account.passkey-refused",
    "The passkey was not added. Try again on the device you want to sign in with.",
)
PASSKEY_UNNAMED = message("account.passkey-unnamed", "Enter a name for the passkey.")
PASSKEY_NUMBER = message("account.passkey-number", "Passkey {n}")
CODES_OFF = message("account.codes-off", "Phone codes are off.")
FACTOR_REQUIRED = message(
    "account.factor-required",
    "This site requires more than a password. Add a passkey or phone codes first.",
)

TOKEN_MADE = message("account.token-made", "Token for {program}, shown only once: {secret}")
WEBHOOK_SECRET = message("account.webhook-secret", "Signing secret, shown only once: {secret}")
SCOPE_READ = message("account.scope-read", "read only")
SCOPE_OBSERVE = message("account.scope-observe", "read, and record observations on site")
SCOPE_WRITE = message("account.scope-write", "everything you may do yourself")
DAYS = message("account.valid-days", "{n} days", one="{n} day")
A_YEAR = message("account.valid-year", "1 year")

NAME = message("account.label-name", "name")
FULL_NAME = message("account.label-full-name", "your name")
SIGN_IN_NAME = message("account.label-sign-in-name", "sign-in name")
PASSWORD = message("account.label-password", "password")
PASSWORD_NOW = message("account.label-password-now", "current password")
PASSWORD_NEXT = message("account.label-password-next", "new password")
CODE = message("account.label-code", "code")
EMAIL = message("account.label-email", "e-mail")
PROGRAM = message("account.label-program", "program")
SCOPE = message("account.label-scope", "access")
VALID_FOR = message("account.label-valid-for", "valid for")
TIME_ZONE = message("account.label-time-zone", "my time zone")
QUIET_FROM = message("account.label-quiet-from", "quiet from")
QUIET_TO = message("account.label-quiet-to", "quiet until")
DIGEST_AT = message("account.label-digest-at", "one message a day, at")
CHANNEL = message("account.label-channel", "send by")
TARGET = message("account.label-target", "address, number or URL")
GATEWAY = message("account.label-gateway", "gateway (text messages only)")
