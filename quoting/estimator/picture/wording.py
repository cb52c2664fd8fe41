"""The picture in words, for those who do not see it."""

from collections import Counter
from collections.abc import Mapping

from .picturing import Picture

_USES = {
    "base": "",
    "accent": " as accents",
    "filler": " as fillers",
    "single": " as large singles",
}


def described(shown: Picture, names: Mapping[str, str]) -> str:
    counts = Counter((b.colour, b.nominal_in, b.use) for b in shown.balloons)
    parts = [
        _part(count, names.get(colour, colour), nominal, use)
        for (colour, nominal, use), count in sorted(counts.items(), key=lambda pair: -pair[1])
    ]
    size = f"{shown.extent.width_m:.2f} m wide and {shown.extent.height_m:.2f} m high"
    flat = " It goes round a corner and is drawn opened flat." if shown.unrolled else ""
    return f"A balloon garland {size}, drawn to scale: {', '.join(parts)}.{flat}"


def _part(count: int, name: str, nominal: float | None, use: str) -> str:
    if nominal is None:
        return f"{count} {name} foil points"
    return f"{count} {name} {nominal:g}-inch{_USES.get(use, '')}"
