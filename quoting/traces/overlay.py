"""The garland drawn back over the photo on which its path was traced."""

from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe

from quoting.estimator import Catalogue, Estimate
from quoting.estimator.picture import Picture, svg_over_photo
from quoting.estimator.tracing import TraceError
from quoting.models import Piece, TracedPhoto
from quoting.pictures.drawing import picture_of
from quoting.traces.paths import TracedPath, path_of, trace_of


def piece_on_photo_svg(
    piece: Piece, *, made: Estimate, catalogue: Catalogue, id_prefix: str = "traced-"
) -> SafeString:
    """For a page: the piece's garland over its photo; empty where there is none to draw it on.

    Raises PictureError where there are more balloons than can be drawn.
    """
    traced = trace_of(piece)
    path = path_of(traced, piece) if traced else None
    if traced is None or path is None or not path.is_current:
        return SafeString("")
    return traced_picture_svg(
        traced,
        path,
        picture_of(made),
        catalogue=catalogue,
        photo_href=reverse("photo", args=[traced.photo_id]),
        title=f"{piece.title}, drawn on the photo",
        id_prefix=id_prefix,
    )


def traced_picture_svg(
    traced: TracedPhoto,
    path: TracedPath,
    picture: Picture,
    *,
    catalogue: Catalogue,
    photo_href: str,
    title: str = "The garland in its place",
    id_prefix: str = "traced-",
) -> SafeString:
    """One SVG, photo and balloons; empty where a part of the garland would be behind the camera.

    `photo_href` is the photo's address for a page, or its `app:` address for a document.
    """
    items = catalogue.items
    try:
        drawn = svg_over_photo(
            picture,
            path.plane.to_pixels,
            size_px=(traced.photo.width_px, traced.photo.height_px),
            colours={item.colour: item.hex for item in items},
            names={item.colour: item.name for item in items},
            title=title,
            photo_href=photo_href,
            id_prefix=id_prefix,
        )
    except TraceError:
        return SafeString("")
    return mark_safe(drawn)  # every text in it is escaped where it is written
