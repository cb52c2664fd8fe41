"""The picture of a garland: the counted balloons, settled as soft spheres and drawn to scale."""

from .drawing import picture_svg
from .over_photo import svg_over_photo
from .picturing import Extent, Picture, PlacedBalloon, Silhouette, picture, silhouette
from .shading import Finish

__all__ = [
    "Extent",
    "Finish",
    "Picture",
    "PlacedBalloon",
    "Silhouette",
    "picture",
    "picture_svg",
    "silhouette",
    "svg_over_photo",
]
