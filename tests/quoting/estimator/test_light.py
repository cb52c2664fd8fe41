import subprocess
import sys

HEAVY = ("numpy", "scipy", "astral", "PIL", "coloraide", "django")
ASK = "import sys, quoting.estimator, quoting.estimator.budget, quoting.estimator.explain; "


def test_an_estimate_loads_nothing_that_it_does_not_need():
    """So that the estimate command starts at once; in a process of its own, as others load them."""
    code = ASK + f"print([name for name in {HEAVY} if name in sys.modules])"
    found = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert found.stdout.strip() == "[]"
