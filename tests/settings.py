"""The app's own settings with what a test machine must not wait for or guess."""

import os
import secrets
import tempfile

os.environ.setdefault("SECRET_KEY", secrets.token_urlsafe(50))
os.environ.setdefault("MEDIA_ROOT", tempfile.mkdtemp(prefix="garlandwright-media-"))

from decor.settings import *  # noqa: F403
from decor.settings import DATABASES

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
AXES_ENABLED = False
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"

# A file, as in real use: the live server's threads would share one connection to a database in
# memory and trip over each other. In shared memory where there is any, to spare the disk.
_SHARED_MEMORY = "/dev/shm"
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    _folder = tempfile.TemporaryDirectory(
        prefix="garlandwright-", dir=_SHARED_MEMORY if os.path.isdir(_SHARED_MEMORY) else None
    )
    DATABASES["default"]["TEST"] = {"NAME": f"{_folder.name}/tests.sqlite3"}
