"""Photos whose colours are known, made as a camera would spoil them."""

from collections.abc import Mapping
from io import BytesIO

import numpy as np
from PIL import Image, ImageCms


def striped(shares: Mapping[str, float], *, size=(640, 480), noise=0.0, seed=1) -> Image.Image:
    """Upright stripes, hex to share of the width; `noise` in codes of 255."""
    width, height = size
    ends = np.round(np.cumsum([0, *shares.values()]) * width).astype(int)
    codes = np.zeros((height, width, 3))
    for value, start, end in zip(shares, ends[:-1], ends[1:], strict=True):
        codes[:, start:end] = list(bytes.fromhex(value.removeprefix("#")))
    codes += np.random.default_rng(seed).normal(0, noise, codes.shape) if noise else 0
    return Image.fromarray(codes.round().clip(0, 255).astype(np.uint8))


def saved(image: Image.Image, kind: str = "PNG", **options) -> bytes:
    file = BytesIO()
    image.save(file, kind, **options)
    return file.getvalue()


def swapped_red_and_green():
    """The sRGB profile, but its red is where green was: two names in its tag table changed."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    swap = {b"rXYZ": b"gXYZ", b"gXYZ": b"rXYZ"}
    table = bytearray(profile)
    for i in range(int.from_bytes(profile[128:132], "big")):
        at = 132 + 12 * i
        table[at : at + 4] = swap.get(profile[at : at + 4], profile[at : at + 4])
    return bytes(table)
