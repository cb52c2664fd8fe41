"""A photo's colours, from the file's bytes; matching; tracing. The goal is for the first."""

from collections.abc import Iterator
from io import BytesIO

import numpy as np
from PIL import Image

from quoting.estimator.palette import ShelfColour, colours_of_photo, match
from quoting.estimator.tracing import plane_from_rectangle, trace

from .timing import milliseconds

_SIZE_PX = (4000, 3000)
_RUNS = 5
_SHELF = 200
_TAPS = 60


def figures() -> Iterator[str]:
    photo = _photo()
    for kind, options in (
        ("JPEG", {"quality": 90}),
        ("PNG", {"compress_level": 1}),
        ("WEBP", {"quality": 80, "method": 0}),
    ):
        file = BytesIO()
        photo.save(file, kind, **options)
        content = file.getvalue()
        best, middle = milliseconds(lambda held=content: colours_of_photo(held), runs=_RUNS)
        megabytes = len(content) / 1e6
        yield (
            f"colours of a 12-megapixel {kind} of {megabytes:.1f} MB, decoding included: "
            f"{middle:.0f} ms (best {best:.0f}); goal under 1000"
        )
    yield _matching()
    yield _tracing()


def _photo() -> Image.Image:
    """Soft patches of many colours under a camera's noise: harder than a real photo."""
    rng = np.random.default_rng(8)
    patches = Image.fromarray(rng.integers(0, 256, (9, 12, 3), dtype=np.uint8))
    smooth = np.asarray(patches.resize(_SIZE_PX, Image.Resampling.BICUBIC), dtype=np.int16)
    noisy = smooth + rng.integers(-8, 9, smooth.shape, dtype=np.int16)
    return Image.fromarray(noisy.clip(0, 255).astype(np.uint8))


def _matching() -> str:
    rng = np.random.default_rng(9)
    shelf = [
        ShelfColour(key=str(i), name=str(i), hex=f"#{code:06x}", free=10)
        for i, code in enumerate(rng.integers(0, 1 << 24, _SHELF))
    ]
    best, middle = milliseconds(lambda: match("#5e7f57", shelf, need=5), runs=50)
    return f"one colour among {_SHELF}: {middle:.1f} ms (best {best:.1f})"


def _tracing() -> str:
    corners = [(1500, 900), (2050, 960), (2040, 2310), (1490, 2400)]
    plane = plane_from_rectangle(corners, width_m=0.914, height_m=2.032, photo_px=_SIZE_PX)
    taps = [(500 + 50 * i, 800 + 4 * (i - _TAPS / 2) ** 2 / 10) for i in range(_TAPS)]
    best, middle = milliseconds(lambda: trace(plane, taps), runs=50)
    return f"a path of {_TAPS} taps with its uncertainty: {middle:.1f} ms (best {best:.1f})"
