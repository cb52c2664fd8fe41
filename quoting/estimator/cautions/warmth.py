"""Heat and cold between the room where it is made and the place where it hangs."""

from collections.abc import Iterator

from .. import constants as c
from ..catalogue import Catalogue
from ..saying import Measure, Quantity
from ..spec import Accent, Fillers, Singles, Size, Spec
from ..weather.heat import diameter_at, expected_life, foil_change, is_dark
from ..weather.wind import wind_chill
from .caution import Caution, Severity

_SLACK_SEEN = 0.03  # from memory: less slack than this in foil is not noticed


def warmth_cautions(spec: Spec, catalogue: Catalogue) -> Iterator[Caution]:
    yield from _heat(spec, catalogue)
    yield from _swelling(spec)
    yield from _foil(spec)
    yield from _cold(spec)


def _warm(spec: Spec) -> dict[str, Quantity]:
    return {
        "made": Quantity(spec.site.made_at_c, Measure.TEMPERATURE),
        "hung": Quantity(spec.site.hung_at_c, Measure.TEMPERATURE),
    }


def _inflations(spec: Spec) -> Iterator[tuple[float, float]]:
    """Nominal and largest inflated diameter of everything in latex, in inches."""
    groups: list[Size | Fillers | Singles | Accent] = [*spec.sizes, *spec.accents]
    groups += [group for group in (spec.fillers, spec.singles) if group]
    for group in groups:
        nominal = c.ACCENT_NOMINAL_IN if isinstance(group, Accent) else group.nominal_in
        yield nominal, group.inflated_in[1]


def _heat(spec: Spec, catalogue: Catalogue) -> Iterator[Caution]:
    site = spec.site
    if not site.outdoor or site.hung_at_c < c.HOT_C.value:
        return
    most = c.HOT_11_INCH_MAX_IN.value
    largest = max((d for nominal, d in _inflations(spec) if nominal == 11), default=0)
    life = expected_life(site.hung_at_c)
    numbers = _warm(spec) | {"life": Quantity(life.hours, Measure.HOURS)}
    lasts = "hang it late, as it looks its best for about {life}" + _dark_first(spec, catalogue)
    if largest > most:
        yield Caution(
            Severity.CARE,
            "heat",
            f"{{hung}} outdoors is too warm for 11-inch sized {largest:g} in",
            f"inflate 11-inch to {most:g} in at most and the others smaller in the same way; "
            + lasts,
            numbers,
        )
    else:
        yield Caution(
            Severity.NOTE, "heat", "{hung} outdoors shortens a garland's life", lasts, numbers
        )


def _dark_first(spec: Spec, catalogue: Catalogue) -> str:
    """`; dark colours go first, here plum`."""
    colours = dict.fromkeys(
        [
            *(base.colour for base in spec.base),
            *(accent.colour for accent in spec.accents),
            *(spec.singles.colours if spec.singles else ()),
            *(spec.fillers.colours if spec.fillers else ()),
        ]
    )
    latex = {item.colour: item for item in catalogue.items if item.kind == "latex"}
    dark = [latex[key].name.lower() for key in colours if is_dark(latex[key].hex)]
    return "; dark colours go first" + (f", here {_listed(dark)}" if dark else "")


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _swelling(spec: Spec) -> Iterator[Caution]:
    """The one balloon that swells furthest past its size stands for all."""
    made, hung = spec.site.made_at_c, spec.site.hung_at_c
    swollen = [
        (diameter_at(largest, from_c=made, to_c=hung), nominal, largest)
        for nominal, largest in _inflations(spec)
    ]
    over = [found for found in swollen if found[0] > found[1]]
    if not over:
        return
    size, nominal, largest = max(over, key=lambda found: found[0] / found[1])
    fits = diameter_at(nominal, from_c=hung, to_c=made)
    others = " and the others likewise" if len(over) > 1 else ""
    yield Caution(
        Severity.CARE,
        "swelling",
        f"From {{made}} to {{hung}} a {nominal:g}-inch sized {largest:g} in swells to "
        f"{size:.1f} in, past its own size, and may burst",
        f"inflate it to {_tenths_down(fits):.1f} in at most{others}",
        _warm(spec),
    )


def _tenths_down(inches: float) -> float:
    return int(inches * 10 + 1e-9) / 10


def _foil(spec: Spec) -> Iterator[Caution]:
    if not spec.starbursts:
        return
    change = foil_change(from_c=spec.site.made_at_c, to_c=spec.site.hung_at_c)
    if change.strain > _SLACK_SEEN:
        yield Caution(
            Severity.CARE,
            "foil strain",
            "From {made} to {hung} air in foil wants {strain} more room and its skin gives none",
            "fill the points that much short of tight",
            _warm(spec) | {"strain": Quantity(change.strain, Measure.SHARE)},
        )
    elif change.slack > _SLACK_SEEN:
        yield Caution(
            Severity.NOTE,
            "foil slack",
            "From {made} to {hung} foil points lose {slack} of their air's room and look slack",
            "take the hand pump and fill them up once they are cold",
            _warm(spec) | {"slack": Quantity(change.slack, Measure.SHARE)},
        )


def _cold(spec: Spec) -> Iterator[Caution]:
    site = spec.site
    if site.hung_at_c >= c.COLD_C.value:
        return
    kept = diameter_at(1.0, from_c=site.made_at_c, to_c=site.hung_at_c)
    numbers = _warm(spec) | {"shrunk": Quantity(1 - kept, Measure.SHARE)}
    chilled = wind_chill(site.hung_at_c, site.gust_mps) if site.outdoor else None
    feels = ""
    if chilled is not None:
        feels = ", and in the gusts it feels like {chilled}"
        numbers["chilled"] = Quantity(chilled, Measure.TEMPERATURE)
    shrinks = "balloons shrink by {shrunk} across, " if kept < 1 else ""
    yield Caution(
        Severity.NOTE,
        "cold",
        f"{{hung}}: {shrinks}latex turns soft and necks stiff{feels}",
        "tie in the warm and warm your hands",
        numbers,
    )
