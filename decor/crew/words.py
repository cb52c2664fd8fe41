"""How the days of a week are said."""

SHORT = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
EVERY_DAY, NO_DAY = "Every day", "No day"
WORKS = "1"


def week_text(week: str) -> str:
    """`1111100` is said as `Mon to Fri`, `1010001` as `Mon, Wed, Sun`."""
    runs: list[list[str]] = []
    for day, works, before in zip(SHORT, week, f"0{week}", strict=False):
        if works != WORKS:
            continue
        if before == WORKS:
            runs[-1].append(day)
        else:
            runs.append([day])
    if not runs:
        return NO_DAY
    return EVERY_DAY if len(runs[0]) == len(SHORT) else ", ".join(_run(run) for run in runs)


def _run(days: list[str]) -> str:
    return f"{days[0]} to {days[-1]}" if len(days) > 2 else ", ".join(days)
