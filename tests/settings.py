"""The app's own settings with what a test machine must not wait for or guess."""

import os
import secrets
import tempfile

os.environ.setdefault("SECRET_KEY", secrets.token_urlsafe(50))
os.environ.setdefault("MEDIA_ROOT", tempfile.mkdtemp(prefix="garlandwright-media-"))

from decor.settings import *  # noqa: F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
AXES_ENABLED = False
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
