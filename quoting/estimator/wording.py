"""Plain text for reasons: amounts, counts, sizes. Display formatting belongs to the pages."""


def amount(cents: int) -> str:
    """Two decimals and no currency sign, as in the result file."""
    sign = "-" if cents < 0 else ""
    return f"{sign}{abs(cents) // 100}.{abs(cents) % 100:02d}"


def percent(basis_points: int) -> str:
    return f"{basis_points / 100:g} %"


def people(count: int) -> str:
    return "1 person" if count == 1 else f"{count} people"


def counted(count: int, one: str, many: str) -> str:
    return f"1 {one}" if count == 1 else f"{count} {many}"
