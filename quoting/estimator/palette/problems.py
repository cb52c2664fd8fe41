"""Why a photo or a colour is refused."""

from ..problems import BadInput


class ColourError(BadInput):
    """A colour that was typed is not understood."""


class PhotoError(BadInput):
    """A photo cannot be read, or the area picked in it cannot be measured."""
