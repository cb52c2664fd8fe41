"""What is typed into a quote stays text on its PDF. The fetcher is tested with the renderer."""

from collections.abc import Iterator

import pytest

from decor.documents.pdf import render_pdf
from quoting.documents.quote_document import TEMPLATE
from quoting.models import Quote
from quoting.quotes.editions import draft_of
from tests.decor.documents.listener import Listener
from tests.quoting.documents.reading import parts_of, words_of


@pytest.fixture
def listener() -> Iterator[Listener]:
    listener = Listener()
    yield listener
    listener.server.shutdown()
    listener.server.server_close()


def test_markup_typed_into_a_quote_is_text_on_it(quote: Quote, listener: Listener, pdf_of) -> None:
    hostile = f'<img src="{listener.url}/n.png"><link rel=attachment href=file:///etc/passwd>'
    job, client = quote.job, quote.job.client
    job.title = client.name = hostile[:120]
    client.save()
    job.save()
    quote.message = quote.terms = hostile + "<script>alert(1)</script>{{ business }}"
    quote.save()
    quote.pieces.update(title=hostile[:120])

    pdf = pdf_of(draft_of(quote, today=quote.expires_on))

    assert listener.asked == []
    assert not parts_of(pdf).attachments
    said = words_of(pdf)
    assert "<script>alert(1)</script>{{ business }}" in said
    assert "root:" not in said


def test_a_missing_logo_leaves_the_name_alone(draft, pdf_of) -> None:
    assert draft.inputs["business"]["logo"] == ""
    assert "Larkspur Lane Garlands" in words_of(pdf_of(draft))
    assert render_pdf(TEMPLATE, {}, "a4")
