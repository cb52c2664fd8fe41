"""When a garland cannot be pictured."""

from ..problems import BadInput


class PictureError(BadInput):
    """Too many balloons for one picture."""
