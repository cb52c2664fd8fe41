"""The page on which a piece finds its colours."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods, require_POST

from decor.jobs.photos import photos_add
from quoting.covering.colours import free_by_colour, most_of_one_colour
from quoting.estimator.palette import seasonal_palettes
from quoting.models import Piece
from quoting.palettes.apart import WHAT_TO_DO, apart_sentences
from quoting.palettes.balloons import Balloon, balloons_of
from quoting.palettes.beginning import Beginning, beginning_of
from quoting.palettes.choosing import (
    NothingChosen,
    Palette,
    Proposal,
    Wanted,
    palette_of,
    proposals_for,
    refuse_unknown,
    wanted_of,
)
from quoting.palettes.forms import IdeaPhotoForm
from quoting.palettes.service import palette_use
from quoting.palettes.starts import Way
from quoting.pieces.reading import Surroundings
from quoting.pieces.service import Window, piece_type
from quoting.pieces.surroundings import surroundings_of
from quoting.pieces.views import typed_of
from quoting.pieces.words import said

UNPROCESSABLE = 422
USED = "{names}: these are the colours of {title} now."
KEPT = "{title} is kept as you left it. Now find its colours."


@require_POST
def palette_open(request: HttpRequest, piece_pk: int) -> HttpResponse:
    """From the piece's page: what is typed there is kept first, so that nothing is lost."""
    piece = _piece(piece_pk)
    window = Window(token=request.POST.get("window", "")[:32], seen_count=piece.typed_count)
    result = piece_type(
        piece=piece,
        typed=typed_of(request.POST),
        surroundings=_surroundings(request, piece),
        window=window,
    )
    said_so = KEPT.format(title=result.piece.title)
    messages.success(request, said_so, extra_tags=f"keep:piece-{piece.pk}")
    return redirect("palette_choose", piece.pk)


@require_http_methods(["GET", "POST"])
def palette_choose(request: HttpRequest, piece_pk: int) -> HttpResponse:
    """The address says what to begin from; what is posted says which balloons to take."""
    piece = _piece(piece_pk)
    surroundings = _surroundings(request, piece)
    balloons = _balloons(piece, surroundings)
    beginning = beginning_of(request.GET, job=piece.quote.job, balloons=balloons)
    wanted = wanted_of(request.POST) if request.method == "POST" else Wanted()
    need = most_of_one_colour(piece, catalogue=surroundings.catalogue, rates=surroundings.rates)
    proposals = proposals_for(beginning.found, balloons, wanted=wanted, need=need)
    palette, problem = _palette(proposals, wanted)
    if request.htmx and request.method == "POST":
        return _together(request, piece, surroundings, palette, problem)
    is_sent = request.method == "POST" and "check" not in request.POST
    if is_sent and palette:
        return _used(request, piece, palette, surroundings)
    context = _context(piece, surroundings, beginning, balloons) | {
        "proposals": proposals,
        "wanted": wanted,
        "problem": problem if is_sent else "",
        **_together_context(piece, surroundings, palette, problem),
    }
    refused = beginning.is_refused or is_sent
    return _page(request, context, status=UNPROCESSABLE if refused else 200)


@require_POST
def palette_photo(request: HttpRequest, piece_pk: int) -> HttpResponse:
    piece = _piece(piece_pk)
    form = IdeaPhotoForm(request.POST, request.FILES)
    if form.is_valid() and form.pictures:
        added = photos_add(job=piece.quote.job, pictures=form.pictures[:1])
        query = urlencode({"from": Way.PHOTO.value, "photo": added[0].pk})
        return redirect(f"{reverse('palette_choose', args=[piece.pk])}?{query}#found")
    surroundings = _surroundings(request, piece)
    beginning = Beginning(way=Way.PHOTO)
    context = _context(piece, surroundings, beginning, _balloons(piece, surroundings))
    return _page(request, context | {"photo_form": form}, status=UNPROCESSABLE)


def _piece(pk: int) -> Piece:
    related = "quote__rate_card", "quote__job__client", "quote__job__site"
    return get_object_or_404(Piece.objects.select_related(*related), pk=pk)


def _surroundings(request: HttpRequest, piece: Piece) -> Surroundings:
    today = timezone.localdate()
    return surroundings_of(piece.quote, business=request.business, today=today)


def _balloons(piece: Piece, surroundings: Surroundings) -> tuple[Balloon, ...]:
    """Only what is offered: a colour that has left the shelf is not proposed anew."""
    free = free_by_colour(piece.quote.job, today=timezone.localdate())
    return balloons_of(surroundings.shelf_for({}), free)


def _palette(proposals: tuple[Proposal, ...], wanted: Wanted) -> tuple[Palette | None, str]:
    try:
        refuse_unknown(proposals, wanted)
        return palette_of(proposals, wanted), ""
    except NothingChosen as refused:
        return None, str(refused)


def _used(
    request: HttpRequest, piece: Piece, palette: Palette, surroundings: Surroundings
) -> HttpResponse:
    result = palette_use(piece=piece, palette=palette, surroundings=surroundings)
    names = said(list(palette.hexes()))
    messages.success(request, USED.format(names=names, title=result.piece.title))
    return redirect("piece_edit", piece.pk)


def _together(
    request: HttpRequest,
    piece: Piece,
    surroundings: Surroundings,
    palette: Palette | None,
    problem: str,
) -> HttpResponse:
    context = _together_context(piece, surroundings, palette, problem)
    return render(request, "quoting/palettes/partials/together.html", context)


def _together_context(
    piece: Piece, surroundings: Surroundings, palette: Palette | None, problem: str
) -> dict[str, Any]:
    return {
        "palette": palette,
        "nothing_together": problem,
        "falling_together": apart_sentences(palette.hexes()) if palette else (),
        "what_to_do": WHAT_TO_DO,
        "present_names": _present_names(piece, surroundings, "base"),
        "present_accents": _present_names(piece, surroundings, "accents"),
    }


def _present_names(piece: Piece, surroundings: Surroundings, group: str) -> str:
    """The colours that would be replaced."""
    ticked = piece.typed.get(group, [])
    shelf = surroundings.shelf_for(piece.typed)
    return said([shelf.name_of(key) for key in ([ticked] if isinstance(ticked, str) else ticked)])


def _context(
    piece: Piece,
    surroundings: Surroundings,
    beginning: Beginning,
    balloons: tuple[Balloon, ...],
) -> dict[str, Any]:
    job = piece.quote.job
    return {
        "piece": piece,
        "job": job,
        "ways": Way,
        "beginning": beginning,
        "balloons": balloons,
        "photos": job.photos.all(),
        "photo_form": IdeaPhotoForm(),
        "seasons": seasonal_palettes(),
    }


def _page(request: HttpRequest, context: dict[str, Any], *, status: int) -> HttpResponse:
    return render(request, "quoting/palettes/palette_choose.html", context, status=status)
