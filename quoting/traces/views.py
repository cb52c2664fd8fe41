from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from decor.jobs.forms import PhotosForm
from decor.jobs.photos import photos_add
from decor.models import JobPhoto
from quoting.estimator.picture import PictureError
from quoting.models import Piece
from quoting.pieces.reading import Surroundings
from quoting.pieces.service import piece_read
from quoting.pieces.surroundings import surroundings_of
from quoting.traces.form import TraceForm
from quoting.traces.overlay import piece_on_photo_svg
from quoting.traces.page import TracePage, readout_of
from quoting.traces.paths import path_of, trace_of
from quoting.traces.service import (
    trace_draft,
    trace_keep,
    trace_put_away,
    trace_read,
    trace_type,
)
from quoting.traces.typed import MOST_TAPS, typed_of
from quoting.traces.words import sentence

UNPROCESSABLE = 422
TAKEN = "The piece follows the path on the photo now."
NO_COLOURS = "Nothing to draw yet: choose colours for the piece, and the garland appears here."
OTHER_PATH = "The garland no longer goes along the path on the photo, so it is not drawn there."
PUT_AWAY = "The garland is no longer drawn on the photo. Your marks and its path are kept."


@require_http_methods(["GET", "POST"])
def trace_photo(request: HttpRequest, piece_pk: int) -> HttpResponse:
    """Which photo? With one in use already it leads there, unless another is asked for."""
    piece = _piece(piece_pk)
    if request.method == "POST":
        return _photo_added(request, piece)
    traced = trace_of(piece)
    if traced and "another" not in request.GET:
        return redirect("trace_on_photo", piece.pk, traced.photo_id)
    return _choice(request, piece, PhotosForm())


@require_http_methods(["GET", "POST"])
def trace_on_photo(request: HttpRequest, piece_pk: int, photo_pk: int) -> HttpResponse:
    piece = _piece(piece_pk)
    photo = _photo(piece, photo_pk)
    if request.method == "GET":
        draft = trace_draft(piece=piece, photo=photo)
        units = request.business.units
        form = trace_read(typed=draft and draft.typed, photo=photo, units=units)
        return _page(request, piece, photo, form)
    typed = typed_of(request.POST.dict())
    if "measure" in request.POST:
        trace_type(piece=piece, photo=photo, typed=typed)
        return redirect("trace_on_photo", piece.pk, photo.pk)
    form = trace_keep(
        piece=piece,
        photo=photo,
        typed=typed,
        surroundings=_surroundings(request, piece),
        now=timezone.now(),
    )
    if form.errors:
        return _page(request, piece, photo, form, status=UNPROCESSABLE)
    messages.success(request, TAKEN, extra_tags=f"keep:{_keep_key(piece, photo)}")
    return redirect("trace_on_photo", piece.pk, photo.pk)


@require_POST
def trace_measure(request: HttpRequest, piece_pk: int, photo_pk: int) -> HttpResponse:
    """Keeps every mark and tap as a draft, and answers with the length so far."""
    piece = _piece(piece_pk)
    photo = _photo(piece, photo_pk)
    typed = typed_of(request.POST.dict())
    trace_type(piece=piece, photo=photo, typed=typed)
    form = trace_read(typed=typed, photo=photo, units=request.business.units)
    context = {"page": TracePage(form, photo)}
    return render(request, "quoting/traces/live.html", context)


@require_GET
def trace_picture(request: HttpRequest, piece_pk: int) -> HttpResponse:
    """The garland over its photo: for htmx alone, else as a page of its own."""
    piece = _piece(piece_pk)
    name = "partials/on_photo" if request.htmx else "trace_picture"
    context = {"piece": piece, **_on_photo(request, piece)}
    return render(request, f"quoting/traces/{name}.html", context)


@require_POST
def trace_off(request: HttpRequest, piece_pk: int) -> HttpResponse:
    piece = _piece(piece_pk)
    traced = trace_of(piece)
    trace_put_away(piece=piece)
    messages.success(request, PUT_AWAY)
    if traced is None:
        return redirect("trace_photo", piece.pk)
    return redirect("trace_on_photo", piece.pk, traced.photo_id)


def _piece(pk: int) -> Piece:
    related = "quote__rate_card", "quote__job__client", "quote__job__site"
    return get_object_or_404(Piece.objects.select_related(*related), pk=pk)


def _photo(piece: Piece, pk: int) -> JobPhoto:
    return get_object_or_404(piece.quote.job.photos, pk=pk)


def _surroundings(request: HttpRequest, piece: Piece) -> Surroundings:
    today = timezone.localdate()
    return surroundings_of(piece.quote, business=request.business, today=today)


def _keep_key(piece: Piece, photo: JobPhoto) -> str:
    return f"trace-{piece.pk}-{photo.pk}"


def _choice(
    request: HttpRequest, piece: Piece, form: PhotosForm, *, status: int = 200
) -> HttpResponse:
    photos = piece.quote.job.photos.all()
    context = {"piece": piece, "photos": photos, "photos_form": form}
    return render(request, "quoting/traces/trace_choose.html", context, status=status)


def _photo_added(request: HttpRequest, piece: Piece) -> HttpResponse:
    form = PhotosForm(request.POST, request.FILES)
    is_complete = form.is_valid()
    job = piece.quote.job
    photos_add(job=job, pictures=form.pictures)
    if not is_complete:
        return _choice(request, piece, form, status=UNPROCESSABLE)
    if len(form.pictures) == 1:
        return redirect("trace_on_photo", piece.pk, job.photos.latest("pk").pk)
    return redirect(reverse("trace_photo", args=[piece.pk]) + "?another")


def _page(
    request: HttpRequest, piece: Piece, photo: JobPhoto, form: TraceForm, *, status: int = 200
) -> HttpResponse:
    traced = trace_of(piece)
    is_here = traced is not None and traced.photo_id == photo.pk
    path = path_of(traced, piece) if traced and is_here else None
    context = {
        "piece": piece,
        "photo": photo,
        "form": form,
        "page": TracePage(form, photo),
        "keep_key": _keep_key(piece, photo),
        "most_taps": MOST_TAPS,
        "traced": traced if is_here else None,
        "path": path,
        "in_use": path and readout_of(path.trace, request.business.units),
        "is_refused": status == UNPROCESSABLE,
        "is_open": path is None or not path.is_current or status == UNPROCESSABLE,
    }
    return render(request, "quoting/traces/trace_photo.html", context, status=status)


def _on_photo(request: HttpRequest, piece: Piece) -> dict[str, str]:
    """The picture, or why there is none."""
    surroundings = _surroundings(request, piece)
    made = piece_read(piece=piece, surroundings=surroundings).estimate
    if made is None:
        return {"why_not": NO_COLOURS}
    try:
        drawn = piece_on_photo_svg(piece, made=made, catalogue=surroundings.catalogue)
    except PictureError as error:
        return {"why_not": sentence(str(error))}
    return {"picture": drawn, "why_not": OTHER_PATH}
