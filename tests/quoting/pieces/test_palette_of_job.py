from django.template.loader import render_to_string
from django.test import RequestFactory

from decor.models import Job
from inventory.catalogue.starter import add_starter_catalogue
from quoting.models import Piece
from tests.factories import JobFactory, PieceFactory, QuoteFactory


def shown(job: Job, request=None) -> str:
    return render_to_string(
        "quoting/pieces/partials/palette_of_job.html", {"job": job}, request=request
    )


def test_a_job_shows_the_colours_of_its_newest_quote(business):
    add_starter_catalogue()
    job = JobFactory()
    PieceFactory(quote=QuoteFactory(job=job))
    assert "Oat, Fern" in shown(job)
    QuoteFactory(job=job)
    assert "No palette yet" in shown(Job.objects.get(pk=job.pk))


def test_a_job_with_no_quote_has_no_palette_yet(business):
    assert "No palette yet" in shown(JobFactory())


def test_a_list_of_jobs_asks_for_the_colours_once(business, django_assert_num_queries):
    add_starter_catalogue()
    for n in range(3):
        PieceFactory(quote=QuoteFactory(job=JobFactory(title=f"Job {n}")))
    jobs = list(Job.objects.prefetch_related("quotes__pieces"))
    request = RequestFactory().get("/")
    request.business = business
    with django_assert_num_queries(1):
        for job in jobs:
            shown(job, request)


def test_a_piece_that_is_not_described_yet_adds_no_colour(business):
    add_starter_catalogue()
    quote = QuoteFactory()
    PieceFactory(quote=quote, spec=None)
    assert Piece.objects.count() == 1
    assert "No palette yet" in shown(quote.job)
