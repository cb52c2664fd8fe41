"""The handful of colours that make up a photo."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Final

import numpy as np
from coloraide import Color
from PIL import Image
from scipy.cluster.vq import kmeans, kmeans2, vq

from ..problems import Problem
from .difference import TOLD_APART_FROM, delta_e, lab_of, lab_of_hex
from .light import Floats, Lab, hex_of_oklab, linear_light, oklab
from .photo import PhotoSource, open_photo
from .problems import PhotoError

# Enough to see what a photo is made of: a thing of 1 % of it still has some 200 pixels.
WORKING_SIDE_PX: Final = 160
# More than anybody wants, so that a small bright thing gets a cluster of its own before
# the many shades of a large one are brought together.
_CLUSTERS: Final = 20
# Blends at edges and stray reflections stay below this. Own choice, no source.
SMALLEST_SHARE: Final = 0.01
MERGED_BELOW: Final = TOLD_APART_FROM
_OPAQUE: Final = 128
_CONVERGED: Final = 1e-4  # mean distance in OKLab, where 0.02 is just seen


@dataclass(frozen=True, kw_only=True)
class PhotoColour:
    """`share` is of the photo's pixels; `lab` is CIELAB under D65."""

    hex: str
    share: float
    lab: Lab


@dataclass(frozen=True)
class _Cluster:
    mean: Floats  # OKLab
    share: float
    lab: Lab

    def mixed_with(self, other: "_Cluster") -> "_Cluster":
        share = self.share + other.share
        return _cluster((self.mean * self.share + other.mean * other.share) / share, share)

    def swallowing(self, other: "_Cluster") -> "_Cluster":
        return replace(self, share=self.share + other.share)


def _cluster(mean: Floats, share: float) -> _Cluster:
    return _Cluster(mean, share, lab_of(Color("oklab", mean.tolist())))


def colours_of_photo(
    photo: PhotoSource, *, most: int = 6, seed: int = 1
) -> tuple[PhotoColour, ...]:
    """Largest first, at most `most`; the same for the same photo and seed.

    The photo is shrunk and clustered in OKLab. What would not be told apart is one colour,
    a mixture; when there are still too many, the nearest two count as the larger of them,
    unmixed: so a small colour that stands out is kept.
    """
    clusters = _clusters(_pixels(open_photo(photo, at_least=WORKING_SIDE_PX)), seed)
    apart = _merged(clusters)
    kept = [cluster for cluster in apart if cluster.share >= SMALLEST_SHARE] or apart
    while len(kept) > most:
        _, first, second = _nearest(kept)
        larger, smaller = sorted((first, second), key=lambda each: each.share, reverse=True)
        kept = [*_without(kept, first, second), larger.swallowing(smaller)]
    colours = [_photo_colour(cluster) for cluster in kept]
    return tuple(sorted(colours, key=lambda colour: (-colour.share, colour.hex)))


def _pixels(photo: Image.Image) -> Floats:
    """(n, 3) OKLab of what is not see-through."""
    codes = np.asarray(photo).reshape(-1, len(photo.getbands()))
    if codes.shape[1] == 4:
        codes = codes[codes[:, 3] >= _OPAQUE, :3]
    if not len(codes):
        raise PhotoError([Problem("photo", "is see-through everywhere: there is no colour in it")])
    return oklab(linear_light(codes))


def _clusters(pixels: Floats, seed: int) -> list[_Cluster]:
    rng = np.random.default_rng(seed)
    different = len(np.unique(pixels, axis=0))
    if different <= _CLUSTERS:
        means = np.unique(pixels, axis=0)
    else:
        start, _ = kmeans2(pixels, _CLUSTERS, iter=1, minit="++", rng=rng)
        means, _ = kmeans(pixels, start, thresh=_CONVERGED)
    nearest, _ = vq(pixels, means)
    counts = np.bincount(nearest, minlength=len(means))
    return [
        _cluster(mean, count / len(pixels))
        for mean, count in zip(means, counts, strict=True)
        if count
    ]


def _merged(clusters: Sequence[_Cluster]) -> list[_Cluster]:
    apart = list(clusters)
    while len(apart) > 1:
        distance, first, second = _nearest(apart)
        if distance >= MERGED_BELOW:
            break
        apart = [*_without(apart, first, second), first.mixed_with(second)]
    return apart


def _nearest(clusters: Sequence[_Cluster]) -> tuple[float, _Cluster, _Cluster]:
    pairs = (
        (delta_e(first.lab, second.lab), first, second)
        for first, second in combinations(clusters, 2)
    )
    return min(pairs, key=lambda pair: pair[0])


def _without(clusters: Sequence[_Cluster], *gone: _Cluster) -> list[_Cluster]:
    return [cluster for cluster in clusters if not any(cluster is each for each in gone)]


def _photo_colour(cluster: _Cluster) -> PhotoColour:
    hex_value = hex_of_oklab(cluster.mean)
    return PhotoColour(hex=hex_value, share=cluster.share, lab=lab_of_hex(hex_value))
