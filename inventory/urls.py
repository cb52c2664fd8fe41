from django.urls import include, path

urlpatterns = [
    path("catalogue/", include("inventory.catalogue.urls")),
]
