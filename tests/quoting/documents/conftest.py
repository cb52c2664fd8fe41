import pickle
from collections.abc import Callable
from datetime import date
from functools import cache
from typing import Any

import pytest

from decor.documents.pdf import render_pdf
from quoting.documents.quote_document import TEMPLATE, quote_document
from quoting.models import Quote
from quoting.quotes.editions import Draft, draft_of
from tests.quoting.quotes.conftest import catalogue, quote  # noqa: F401

SENT_ON = date(2026, 6, 13)


@pytest.fixture
def draft(quote: Quote, today: date) -> Draft:  # noqa: F811
    return draft_of(quote, today=today)


@pytest.fixture
def pdf_of() -> Callable[..., bytes]:
    """Sets a draft as its edition 1 on the business's own paper."""

    def made(draft: Draft, **changes: Any) -> bytes:
        context = quote_document(draft.inputs, draft.result, edition=1, made_on=SENT_ON)
        paper = draft.inputs["business"]["paper"]
        photos = tuple(draft.inputs["photos"].items())
        return _rendered_once(pickle.dumps({**context, **changes}), paper, photos)

    return made


@cache
def _rendered_once(context: bytes, paper: str, photos: tuple[tuple[str, str], ...]) -> bytes:
    """Many tests read the same document, which takes half a second to set."""
    return render_pdf(TEMPLATE, pickle.loads(context), paper, photos=dict(photos))
