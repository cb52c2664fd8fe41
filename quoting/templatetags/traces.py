"""What a page of a piece shows of its trace."""

from django import template

from quoting.models import Piece, TracedPhoto
from quoting.traces.paths import trace_of

register = template.Library()


@register.simple_tag
def traced_photo(piece: Piece) -> TracedPhoto | None:
    """The photo whose path the piece took, if it took one."""
    return trace_of(piece)
