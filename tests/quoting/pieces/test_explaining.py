import re
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest
from django.urls import reverse

from quoting.estimator.explain import explanations
from quoting.pieces.explaining import ORDER, PRESS, explained
from quoting.pieces.reading import read_piece

RICH = {
    "shape": "walk_arch",
    "base": ["oat", "fern"],
    "accents": ["marigold"],
    "burst_copper": "2",
    "outdoor": "yes",
    "gust": "20",
    "crew": "2",
}


@pytest.fixture
def made(surroundings):
    return read_piece(RICH, surroundings).estimate


def test_every_figure_that_the_estimator_explains_can_be_shown(made):
    for key in explanations(made):
        (figure,) = explained(made, [key], units="imperial")
        assert figure.formula
        assert figure.to_change


def test_the_balloons_to_order_are_the_sum_of_their_parts(made):
    (figure,) = explained(made, [ORDER], units="imperial")
    parts = [int(row.value) for row in figure.rows]
    assert sum(parts) == int(figure.value) == sum(line.total for line in made.balloons)


def test_money_and_lengths_are_in_the_business_units(made):
    (total,) = explained(made, ["total"], units="imperial")
    assert re.fullmatch(r"\$\d+\.\d\d", total.value)
    (length,) = explained(made, ["path length"], units="imperial")
    assert re.fullmatch(r"\S+ m \(\d+ ft( \d+ in)?\)", length.value)
    (metric,) = explained(made, ["path length"], units="metric")
    assert "ft" not in metric.value


def test_a_number_that_was_worked_out_leads_to_how(made):
    (total,) = explained(made, ["total"], units="imperial")
    leads = [row for row in total.rows if row.see]
    assert leads
    assert all(row.provenance == PRESS for row in leads)
    assert explained(made, [row.see for row in leads], units="imperial")


def test_every_figure_of_the_page_opens(owner_client, piece):
    typed = {**RICH, "window": "w", "seen_count": "0", "serial": "1"}
    live = owner_client.post(reverse("piece_estimate", args=[piece.pk]), typed)
    links = {unescape(link) for link in re.findall(r'class="figure" href="([^"]+)"', live.text)}
    assert len(links) > 40
    for link in links:
        answer = owner_client.get(link, HTTP_HX_REQUEST="true")
        assert answer.status_code == 200, link
        assert answer.text.count('class="explained"') == len(parse_qs(urlsplit(link).query)["key"])


def test_without_scripts_a_figure_opens_as_a_page(owner_client, piece):
    owner_client.post(reverse("piece_estimate", args=[piece.pk]), RICH)
    page = owner_client.get(reverse("piece_explain", args=[piece.pk]), {"key": "body"})
    assert "<html" in page.text
    assert "What would change it" in page.text


@pytest.mark.parametrize("query", [{"key": "nonsense"}, {"key": "need base plum 11"}])
def test_a_figure_that_is_not_there_is_not_found(owner_client, piece, query):
    owner_client.post(reverse("piece_estimate", args=[piece.pk]), RICH)
    assert owner_client.get(reverse("piece_explain", args=[piece.pk]), query).status_code == 404
