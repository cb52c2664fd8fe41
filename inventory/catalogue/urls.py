from django.urls import path

from inventory.catalogue import measuring_views, views

urlpatterns = [
    path("", views.catalogue, name="catalogue"),
    path("start/", views.catalogue_start, name="catalogue_start"),
    path("colours/new/", views.colour_add, name="colour_add"),
    path("colours/<int:pk>/", views.colour_edit, name="colour_edit"),
    path("colours/<int:pk>/measure/", measuring_views.colour_measure, name="colour_measure"),
    path(
        "colours/<int:pk>/measure/use/",
        measuring_views.colour_measure_use,
        name="colour_measure_use",
    ),
    path("colours/<int:pk>/archive/", views.colour_archive, name="colour_archive"),
    path("colours/<int:pk>/bring-back/", views.colour_bring_back, name="colour_bring_back"),
    path("sundries/new/", views.item_add, name="item_add"),
    path("sundries/<int:pk>/", views.item_edit, name="item_edit"),
    path("sundries/<int:pk>/archive/", views.item_archive, name="item_archive"),
    path("sundries/<int:pk>/bring-back/", views.item_bring_back, name="item_bring_back"),
]
