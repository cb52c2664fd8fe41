import os
import subprocess
import sys
from pathlib import Path

MANAGE = Path(__file__).parents[2] / "manage.py"


def test_a_command_without_a_secret_says_which_variable_is_missing():
    environment = {name: value for name, value in os.environ.items() if name != "SECRET_KEY"}
    environment["DJANGO_SETTINGS_MODULE"] = "decor.settings"
    ran = subprocess.run(
        [sys.executable, str(MANAGE), "migrate"], env=environment, capture_output=True, text=True
    )
    assert ran.returncode == 1
    assert ran.stderr.startswith("SECRET_KEY is not set.")
    assert "Traceback" not in ran.stderr
