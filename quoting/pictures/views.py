"""A piece's picture: in its page once the estimate is there, and as a file to keep or send."""

from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.text import slugify
from django.views.decorators.http import require_GET

from decor.documents.pdf import DRAWING_TYPEFACE
from quoting.estimator import Estimate
from quoting.estimator.picture import PictureError
from quoting.models import Piece
from quoting.pictures.drawing import FIGURES, FIRST_FIGURE, PAPER, estimate_svg
from quoting.pictures.files import png_of
from quoting.pieces.fetching import piece_or_404, surroundings_for
from quoting.pieces.problem_words import sentence
from quoting.pieces.reading import Surroundings
from quoting.pieces.service import piece_read
from quoting.pieces.words import piece_in_words

_TYPES = {"svg": "image/svg+xml", "png": "image/png"}


@require_GET
def piece_picture(request: HttpRequest, pk: int) -> HttpResponse:
    """The drawing, to be put into a page that is open."""
    piece = piece_or_404(pk)
    surroundings = surroundings_for(request, piece)
    made = piece_read(piece=piece, surroundings=surroundings).estimate
    context: dict[str, Any] = {"piece": piece, "made": made}
    if made:
        try:
            context["svg"] = _drawn(piece, made, surroundings, id_prefix=f"picture-{piece.pk}-")
        except PictureError as error:
            context["why_not"] = " ".join(sentence(p.message) for p in error.problems)
    return render(request, "quoting/pictures/piece_picture.html", context)


@require_GET
def piece_picture_save(request: HttpRequest, pk: int, kind: str) -> HttpResponse:
    piece = piece_or_404(pk)
    surroundings = surroundings_for(request, piece)
    made = piece_read(piece=piece, surroundings=surroundings).estimate
    if made is None:
        raise Http404("not described yet")
    try:
        svg = _drawn(piece, made, surroundings, paper=PAPER, typeface=_typeface(kind))
    except PictureError as error:
        raise Http404(str(error)) from None
    return HttpResponse(
        png_of(svg) if kind == "png" else svg,
        content_type=_TYPES[kind],
        headers={"Content-Disposition": f'attachment; filename="{_file_name(piece)}.{kind}"'},
    )


def _typeface(kind: str) -> str:
    """An SVG is opened elsewhere, where our typeface may not be."""
    return DRAWING_TYPEFACE if kind == "png" else "sans-serif"


def _drawn(piece: Piece, made: Estimate, surroundings: Surroundings, **looks: Any) -> str:
    figure = piece.typed.get("figure")
    return estimate_svg(
        made,
        catalogue=surroundings.catalogue,
        units=surroundings.units,
        title=f"Picture of {piece.title}",
        words=piece_in_words(made.spec, units=surroundings.units, catalogue=surroundings.catalogue),
        figure=figure if figure in FIGURES else FIRST_FIGURE,
        **looks,
    )


def _file_name(piece: Piece) -> str:
    variant = f"-{piece.variant_name.lower()}" if piece.variant_name else ""
    return (slugify(piece.title)[:60] or "garland") + variant
