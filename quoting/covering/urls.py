from django.urls import path

from quoting.covering import views

urlpatterns = [
    path("quotes/<int:pk>/covering/", views.quote_covering, name="quote_covering"),
    path("quotes/<int:pk>/covering/buy/", views.quote_covering_buy, name="quote_covering_buy"),
    path(
        "quotes/<int:pk>/covering/swap/<int:item_pk>/<int:other_pk>/",
        views.quote_covering_swap,
        name="quote_covering_swap",
    ),
    path("quotes/<int:pk>/promise/", views.quote_promise, name="quote_promise"),
    path("quotes/<int:pk>/hold/", views.quote_hold_again, name="quote_hold_again"),
    path("jobs/<int:job_pk>/promise/", views.job_promise, name="job_promise"),
]
