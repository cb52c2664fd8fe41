"""The picture of an estimate for a page or a file, settled once and kept for a while.

Settling the balloons is what takes time; the figure beside them, the units and the words cost
little, so only the settled balloons are kept.
"""

import hashlib
from collections.abc import Mapping
from dataclasses import replace
from threading import Lock
from typing import Final

from django.core.cache import cache
from django.utils.safestring import SafeString, mark_safe

from quoting.estimator import Catalogue, Estimate
from quoting.estimator.picture import Picture, picture, picture_svg

# What stands beside a garland to show its size. The first is the usual.
FIGURES: Final[Mapping[str, str]] = {
    "doorway": "A doorway",
    "person": "A person",
    "none": "Nothing",
}
FIRST_FIGURE: Final = "doorway"
PAPER: Final = "#ffffff"
_KEPT_S: Final = 24 * 60 * 60
# One at a time: a second picture would only make both late, and the estimate with them.
_one_at_a_time = Lock()


def picture_of(made: Estimate) -> Picture:
    """The settled balloons, nothing beside them. Raises PictureError where they are too many."""
    key = _key(made)
    kept = cache.get(key)
    if kept is not None:
        return kept
    with _one_at_a_time:
        kept = cache.get(key)
        if kept is None:
            kept = picture(made, backdrop=None)
            cache.set(key, kept, _KEPT_S)
    return kept


def estimate_svg(
    made: Estimate,
    *,
    catalogue: Catalogue,
    units: str,
    title: str,
    words: str,
    figure: str = FIRST_FIGURE,
    id_prefix: str = "picture-",
    paper: str | None = None,
    typeface: str = "sans-serif",
) -> SafeString:
    """`words` describe it to those who do not see it; `paper` and `typeface` are for a file.

    Raises PictureError.
    """
    items = catalogue.items
    shown = replace(picture_of(made), backdrop=None if figure == "none" else figure)
    drawn = picture_svg(
        shown,
        colours={item.colour: item.hex for item in items},
        names={item.colour: item.name for item in items},
        title=title,
        desc=words,
        units=units,
        id_prefix=id_prefix,
        paper=paper,
        typeface=typeface,
    )
    return mark_safe(drawn)  # every text in it is escaped where it is written


def _key(made: Estimate) -> str:
    """All that the balloons' places follow from: the spec with its seed, and its recipe."""
    whole = repr((made.spec, made.make)).encode()
    return f"picture-{hashlib.sha256(whole).hexdigest()}"
