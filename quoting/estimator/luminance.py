"""How light a colour is, for contrast and for what the sun heats."""


def relative_luminance(hex_value: str) -> float:
    """Of `#RRGGBB`, black 0 to white 1 (WCAG 2.2, from IEC 61966-2-1)."""
    red, green, blue = (_linear(int(hex_value[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
