"""What every page of a piece begins with."""

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from django.utils import timezone

from quoting.models import Piece
from quoting.pieces.reading import Surroundings
from quoting.pieces.surroundings import surroundings_of


def piece_or_404(pk: int) -> Piece:
    related = "quote__rate_card", "quote__job__client", "quote__job__site"
    return get_object_or_404(Piece.objects.select_related(*related), pk=pk)


def surroundings_for(request: HttpRequest, piece: Piece) -> Surroundings:
    today = timezone.localdate()
    return surroundings_of(piece.quote, business=request.business, today=today)
