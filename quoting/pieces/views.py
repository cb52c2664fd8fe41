"""The pages of a piece: choose its shape, describe it and watch its price, copy it, take it out."""

import secrets
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from quoting.models import Piece, Quote
from quoting.pieces.defaults import SHAPES
from quoting.pieces.form import SEVERAL, Typed
from quoting.pieces.notes import notes_of
from quoting.pieces.panel import panel_of
from quoting.pieces.reading import Surroundings
from quoting.pieces.rows import FormRows, shape_cards
from quoting.pieces.service import (
    TypedResult,
    Window,
    piece_add,
    piece_delete,
    piece_duplicate,
    piece_read,
    piece_type,
)
from quoting.pieces.surroundings import surroundings_of
from quoting.pieces.words import piece_in_words

# Fields of the page that are not about the piece.
_NOT_TYPED = frozenset({"csrfmiddlewaretoken", "window", "seen_count"})
UNPROCESSABLE = 422


@require_http_methods(["GET", "POST"])
def piece_new(request: HttpRequest, quote_pk: int) -> HttpResponse:
    quote = _quote(quote_pk)
    shape = request.POST.get("shape", "")
    if request.method == "POST" and shape in SHAPES:
        return redirect("piece_edit", piece_add(quote=quote, shape=shape).pk)
    context = {"quote": quote, "shapes": shape_cards()}
    status = UNPROCESSABLE if request.method == "POST" else 200
    return render(request, "quoting/pieces/piece_new.html", context, status=status)


@require_http_methods(["GET", "POST"])
def piece_edit(request: HttpRequest, pk: int) -> HttpResponse:
    piece = _piece(pk)
    if request.method == "POST":
        return _typed_and_done(request, piece)
    surroundings = _surroundings(request, piece)
    result = piece_read(piece=piece, surroundings=surroundings)
    window = Window(token=secrets.token_hex(8), seen_count=piece.typed_count)
    has_been_typed = piece.typed_count > 0
    context = _context(result, surroundings, window, with_errors=has_been_typed)
    return render(request, "quoting/pieces/piece_edit.html", context)


def _typed_and_done(request: HttpRequest, piece: Piece) -> HttpResponse:
    surroundings = _surroundings(request, piece)
    result, window = _keep_typed(request.POST, piece, surroundings)
    if result.reading.is_possible:
        saved = f"{result.piece.title} is saved."
        messages.success(request, saved, extra_tags=f"keep:piece-{piece.pk}")
        return redirect("quote_detail", piece.quote_id)
    context = _context(result, surroundings, window, with_errors=True)
    return render(request, "quoting/pieces/piece_edit.html", context, status=UNPROCESSABLE)


@require_POST
def piece_estimate(request: HttpRequest, pk: int) -> HttpResponse:
    """Keeps what was typed and answers with the estimate and a note for every field."""
    piece = _piece(pk)
    surroundings = _surroundings(request, piece)
    result, window = _keep_typed(request.POST, piece, surroundings)
    context = _context(result, surroundings, window, with_errors=True)
    status = 200 if result.reading.is_possible else UNPROCESSABLE
    return render(request, "quoting/pieces/live.html", context, status=status)


@require_http_methods(["GET", "POST"])
def piece_remove(request: HttpRequest, pk: int) -> HttpResponse:
    piece = _piece(pk)
    if request.method == "POST":
        piece_delete(piece=piece)
        said = f"{piece.title} is taken out of the quote."
        messages.success(request, said, extra_tags=f"keep:piece-{pk}")
        return redirect("quote_detail", piece.quote_id)
    return render(request, "quoting/pieces/piece_delete.html", {"piece": piece})


@require_POST
def piece_copy(request: HttpRequest, pk: int) -> HttpResponse:
    return redirect("piece_edit", piece_duplicate(piece=_piece(pk)).pk)


def _quote(pk: int) -> Quote:
    return get_object_or_404(Quote.objects.select_related("job__client", "job__site"), pk=pk)


def _piece(pk: int) -> Piece:
    related = "quote__rate_card", "quote__job__client", "quote__job__site"
    return get_object_or_404(Piece.objects.select_related(*related), pk=pk)


def _surroundings(request: HttpRequest, piece: Piece) -> Surroundings:
    today = timezone.localdate()
    return surroundings_of(piece.quote, business=request.business, today=today)


def _keep_typed(
    posted: QueryDict, piece: Piece, surroundings: Surroundings
) -> tuple[TypedResult, Window]:
    window = Window(
        token=posted.get("window", "")[:32], seen_count=_whole(posted.get("seen_count", ""))
    )
    result = piece_type(
        piece=piece, typed=typed_of(posted), surroundings=surroundings, window=window
    )
    return result, Window(token=window.token, seen_count=result.piece.typed_count)


def typed_of(posted: QueryDict) -> Typed:
    return {
        name: posted.getlist(name) if name in SEVERAL else posted[name]
        for name in posted
        if name not in _NOT_TYPED
    }


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else 0


def _context(
    result: TypedResult, surroundings: Surroundings, window: Window, *, with_errors: bool
) -> dict[str, Any]:
    made, catalogue = result.estimate, surroundings.catalogue
    rows = FormRows(result.reading.form)
    return {
        "piece": result.piece,
        "quote": result.piece.quote,
        "form": result.reading.form,
        "rows": rows,
        "open_folds": rows.open_folds(),
        "notes": notes_of(result.reading, surroundings, with_errors=with_errors),
        "with_errors": with_errors,
        "window": window,
        "was_changed_elsewhere": result.was_changed_elsewhere,
        "is_behind": result.is_behind,
        "panel": panel_of(made, catalogue, units=surroundings.units) if made else None,
        "in_words": made
        and piece_in_words(made.spec, units=surroundings.units, catalogue=catalogue),
    }
