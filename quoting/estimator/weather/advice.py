"""What the trade knows and no formula says: shown where it applies, with where it comes from."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from .. import constants as c
from ..spec import Spec


@dataclass(frozen=True)
class Advice:
    key: str
    text: str
    provenance: str = c.COMMON_PRACTICE


_FACTS: Final[tuple[tuple[Callable[[Spec], bool], Advice], ...]] = (
    (
        lambda spec: bool(spec.starbursts),
        Advice(
            "hand pump",
            "Fill foil points by hand pump: warm air from an electric pump softens their "
            "self-sealing valves, and they leak.",
        ),
    ),
    (
        lambda spec: spec.site.outdoor,
        Advice(
            "every side",
            "Tie it from every side: held low down at one poor point, wind twists the whole "
            "piece round.",
        ),
    ),
    (
        lambda spec: spec.site.hung_at_c < c.COOL_C.value,
        Advice(
            "cold latex",
            "In the cold latex turns soft and necks stiff, but it lasts longer than in heat.",
        ),
    ),
    (
        lambda spec: True,
        Advice("rounder", "A latex balloon inflated short of its size stays rounder."),
    ),
    (
        lambda spec: True,
        Advice(
            "losses by lot",
            "Some lots lose several balloons after they are paired: note losses by bag, so that "
            "spares follow the lot.",
        ),
    ),
)


def advice_for(spec: Spec) -> tuple[Advice, ...]:
    return tuple(advice for applies, advice in _FACTS if applies(spec))
