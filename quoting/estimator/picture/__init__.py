"""The picture of a garland: the counted balloons, settled as soft spheres and drawn to scale."""

from .drawing import picture_svg
from .over_photo import svg_over_photo
from .picturing import Extent, Picture, PlacedBalloon, picture
from .problems import PictureError
from .shading import Finish
from .silhouette import Silhouette, silhouette

__all__ = [
    "Extent",
    "Finish",
    "Picture",
    "PictureError",
    "PlacedBalloon",
    "Silhouette",
    "picture",
    "picture_svg",
    "silhouette",
    "svg_over_photo",
]
