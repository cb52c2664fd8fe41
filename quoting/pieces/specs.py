"""The spec that a piece holds."""

from quoting.estimator import Spec, SpecError, spec_from_dict
from quoting.models import Piece


def piece_spec(piece: Piece) -> Spec | None:
    """The last spec that could be made of what was typed; None before the first."""
    if piece.spec is None:
        return None
    try:
        return spec_from_dict(piece.spec)
    except SpecError:
        # It was written under wider limits than today's: typing again makes a new one.
        return None
