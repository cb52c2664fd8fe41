from django.urls import path

from inventory.shelf import views

urlpatterns = [
    path("shelf/", views.shelf, name="shelf"),
    path("shelf/place/", views.shelf_place, name="shelf_place"),
    path("shelf/items/<int:pk>/", views.shelf_item, name="shelf_item"),
    path("shelf/items/<int:pk>/ledger/", views.shelf_item_ledger, name="shelf_item_ledger"),
    path("shelf/settings/", views.shelf_settings, name="shelf_settings"),
]
