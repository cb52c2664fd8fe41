"""The pages of a piece: choose its shape, describe it and watch its price, copy it, take it out."""

import secrets
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.functional import SimpleLazyObject
from django.views.decorators.http import require_GET, require_http_methods, require_POST
from django_htmx.http import push_url, trigger_client_event

from quoting.covering.colours import colours_with_a_bag
from quoting.models import Piece, Quote
from quoting.pieces.budget_form import BudgetForm
from quoting.pieces.budgets import can_put_back
from quoting.pieces.chances import chances_of
from quoting.pieces.defaults import SHAPES
from quoting.pieces.explaining import explained
from quoting.pieces.fetching import piece_or_404, surroundings_for
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
from quoting.pieces.variants import variants_of
from quoting.pieces.weather import weather_of
from quoting.pieces.words import piece_in_words

# Fields of the page that are not about the piece.
_NOT_TYPED = frozenset({"csrfmiddlewaretoken", "window", "seen_count", "serial"})
UNPROCESSABLE = 422
ESTIMATE_SHOWN = "estimate:shown"


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
    piece = piece_or_404(pk)
    if request.method == "POST":
        return _typed_and_done(request, piece)
    surroundings = surroundings_for(request, piece)
    result = piece_read(piece=piece, surroundings=surroundings)
    window = Window(token=secrets.token_hex(8), seen_count=piece.typed_count)
    has_been_typed = piece.typed_count > 0
    context = _context(result, surroundings, window, with_errors=has_been_typed)
    return render(request, "quoting/pieces/piece_edit.html", context)


def _typed_and_done(request: HttpRequest, piece: Piece) -> HttpResponse:
    surroundings = surroundings_for(request, piece)
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
    piece = piece_or_404(pk)
    surroundings = surroundings_for(request, piece)
    result, window = _keep_typed(request.POST, piece, surroundings)
    context = _context(result, surroundings, window, with_errors=True)
    if not result.reading.is_possible:
        return render(request, "quoting/pieces/live.html", context, status=UNPROCESSABLE)
    response = render(request, "quoting/pieces/live.html", context)
    # What takes longer is asked for once this is shown: the picture, and how sure it is.
    return trigger_client_event(response, ESTIMATE_SHOWN, after="settle")


@require_GET
def piece_chances(request: HttpRequest, pk: int) -> HttpResponse:
    """How far it may fall from its estimate, to be put into a page that is open."""
    piece = piece_or_404(pk)
    made = piece_read(piece=piece, surroundings=surroundings_for(request, piece)).estimate
    context = {"piece": piece, "chances": made and chances_of(made)}
    return render(request, "quoting/pieces/partials/estimate_chances.html", context)


@require_GET
def piece_explain(request: HttpRequest, pk: int) -> HttpResponse:
    """Figures opened to their formulas; without scripts a page of its own."""
    piece = piece_or_404(pk)
    surroundings = surroundings_for(request, piece)
    made = piece_read(piece=piece, surroundings=surroundings).estimate
    if made is None:
        raise Http404("not described yet")
    try:
        figures = explained(made, request.GET.getlist("key"), units=surroundings.units)
    except KeyError:
        raise Http404("not a figure of this piece") from None
    context = {"piece": piece, "figures": figures}
    if not request.htmx:
        return render(request, "quoting/pieces/piece_explain.html", context)
    answer = render(request, "quoting/pieces/partials/explained.html", context)
    # A boosted link would put its own address in the place of the page's.
    return push_url(answer, False)


@require_http_methods(["GET", "POST"])
def piece_remove(request: HttpRequest, pk: int) -> HttpResponse:
    piece = piece_or_404(pk)
    if request.method == "POST":
        piece_delete(piece=piece)
        said = f"{piece.title} is taken out of the quote."
        messages.success(request, said, extra_tags=f"keep:piece-{pk}")
        return redirect("quote_detail", piece.quote_id)
    return render(request, "quoting/pieces/piece_delete.html", {"piece": piece})


@require_POST
def piece_copy(request: HttpRequest, pk: int) -> HttpResponse:
    return redirect("piece_edit", piece_duplicate(piece=piece_or_404(pk)).pk)


def _quote(pk: int) -> Quote:
    return get_object_or_404(Quote.objects.select_related("job__client", "job__site"), pk=pk)


def _keep_typed(
    posted: QueryDict, piece: Piece, surroundings: Surroundings
) -> tuple[TypedResult, Window]:
    window = Window(
        token=posted.get("window", "")[:32],
        seen_count=_whole(posted.get("seen_count", "")),
        serial=_whole(posted.get("serial", "")),
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
    piece, made, catalogue = result.piece, result.estimate, surroundings.catalogue
    # Asked only where the colours are shown: not for every keystroke.
    plenty = SimpleLazyObject(
        lambda: colours_with_a_bag(piece.quote.job, today=timezone.localdate())
    )
    rows = FormRows(result.reading.form, plenty=plenty)
    return {
        "piece": piece,
        "quote": piece.quote,
        "variants": variants_of(piece) if piece.variant_name else [],
        "can_put_back": can_put_back(piece),
        "budget_form": BudgetForm(currency=surroundings.rates.currency),
        "form": result.reading.form,
        "rows": rows,
        "open_folds": rows.open_folds(),
        "notes": notes_of(result.reading, surroundings, with_errors=with_errors),
        "with_errors": with_errors,
        "window": window,
        "was_changed_elsewhere": result.was_changed_elsewhere,
        "is_behind": result.is_behind,
        "panel": panel_of(made, catalogue, units=surroundings.units) if made else None,
        "weather": made and weather_of(made, result.reading, surroundings, now=timezone.now()),
        "site_pk": surroundings.site_pk,
        "in_words": made
        and piece_in_words(made.spec, units=surroundings.units, catalogue=catalogue),
    }
