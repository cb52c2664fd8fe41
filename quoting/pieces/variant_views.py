"""Variants of a piece: made, looked at side by side, and the one that counts chosen."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from quoting.pieces.fetching import piece_or_404
from quoting.pieces.variants import VariantRefused, variant_add, variant_choose
from quoting.pieces.variants_page import variants_page

ADDED = "This is variant {name}. Change what shall be different; the others stay as they are."
CHOSEN = "Variant {name} counts in the quote's total now."


@require_GET
def piece_variants(request: HttpRequest, pk: int) -> HttpResponse:
    piece = piece_or_404(pk)
    page = variants_page(piece, business=request.business, today=timezone.localdate())
    context = {"piece": piece, "quote": piece.quote, "page": page}
    return render(request, "quoting/pieces/piece_variants.html", context)


@require_POST
def piece_variant_add(request: HttpRequest, pk: int) -> HttpResponse:
    piece = piece_or_404(pk)
    try:
        made = variant_add(piece=piece)
    except VariantRefused as refused:
        messages.error(request, str(refused))
        return redirect("piece_variants", pk)
    messages.success(request, ADDED.format(name=made.variant_name))
    return redirect("piece_edit", made.pk)


@require_POST
def piece_choose(request: HttpRequest, pk: int) -> HttpResponse:
    piece = piece_or_404(pk)
    variant_choose(piece=piece)
    if piece.variant_name:
        messages.success(request, CHOSEN.format(name=piece.variant_name))
    return redirect("piece_variants", pk)
