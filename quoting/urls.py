from django.urls import include, path

urlpatterns = [
    path("", include("quoting.first_run.urls")),
    path("", include("quoting.client_page.urls")),
    path("rates/", include("quoting.rate_cards.urls")),
    path("reports/", include("quoting.reports.urls")),
    path("rates/", include("quoting.learning.urls")),
    path("quotes/", include("quoting.quotes.urls")),
    path("", include("quoting.covering.urls")),
    path("", include("quoting.calling_off.urls")),
    path("", include("quoting.making.urls")),
    path("bench/", include("quoting.bench.urls")),
    path("visits/", include("quoting.installing.urls")),
    path("jobs/", include("quoting.look_back.urls")),
    path("pieces/", include("quoting.pieces.urls")),
    path("pieces/", include("quoting.pictures.urls")),
    path("pieces/", include("quoting.traces.urls")),
    path("pieces/", include("quoting.palettes.urls")),
]
