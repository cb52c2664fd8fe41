"""What the demo sets for itself, so that its one command needs nothing from the environment."""

import os
import secrets
from pathlib import Path

DEMO_FOLDER = Path(__file__).resolve().parent.parent / "var" / "demo"


def prepare_demo_environment() -> None:
    """Point this process at the demo's own database, media and secret, unless told otherwise."""
    DEMO_FOLDER.mkdir(parents=True, exist_ok=True)
    os.environ.setdefault("DATABASE_URL", f"sqlite:///{DEMO_FOLDER / 'demo.sqlite3'}")
    os.environ.setdefault("MEDIA_ROOT", str(DEMO_FOLDER / "media"))
    os.environ.setdefault("EMAIL_URL", (DEMO_FOLDER / "letters").as_uri())
    os.environ.setdefault("SECRET_KEY", _secret_kept_in(DEMO_FOLDER / "secret_key"))


def _secret_kept_in(file: Path, *, length: int = 50) -> str:
    if not file.exists():
        file.touch(mode=0o600)
        file.write_text(secrets.token_urlsafe(length))
    return file.read_text()


def demo_password() -> str:
    """The demo owner's password, made once and kept beside the demo."""
    return _secret_kept_in(DEMO_FOLDER / "password", length=9)
