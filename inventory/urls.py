from django.urls import include, path

urlpatterns = [
    path("catalogue/", include("inventory.catalogue.urls")),
    path("shelf/", include("inventory.free.urls")),
    path("shelf/", include("inventory.holds.urls")),
    path("shelf/", include("inventory.kit.urls")),
]
