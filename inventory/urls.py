from django.urls import include, path

urlpatterns = [
    path("", include("inventory.shelf.urls")),
    path("", include("inventory.bags.urls")),
    path("", include("inventory.deliveries.urls")),
    path("", include("inventory.suppliers.urls")),
    path("", include("inventory.counting.urls")),
    path("", include("inventory.labels.urls")),
    path("", include("inventory.losses.urls")),
    path("catalogue/", include("inventory.catalogue.urls")),
    path("shelf/", include("inventory.buying.urls")),
    path("shelf/", include("inventory.free.urls")),
    path("shelf/", include("inventory.holds.urls")),
    path("shelf/", include("inventory.kit.urls")),
]
