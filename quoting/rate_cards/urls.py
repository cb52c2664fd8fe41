from django.urls import path

from quoting.rate_cards import views

urlpatterns = [
    path("", views.rate_card_list, name="rate_card_list"),
    path("change/", views.rate_card_change, name="rate_card_change"),
    path("markup/", views.rate_card_markup, name="rate_card_markup"),
    path("<int:version>/", views.rate_card_detail, name="rate_card_detail"),
]
