from django.urls import path

from inventory.kit import views

urlpatterns = [
    path("kit/", views.shelf_kit, name="shelf_kit"),
    path("kit/new/", views.shelf_kit_add, name="shelf_kit_add"),
    path("kit/<int:pk>/", views.shelf_kit_edit, name="shelf_kit_edit"),
    path("kit/<int:pk>/archive/", views.shelf_kit_archive, name="shelf_kit_archive"),
    path("kit/<int:pk>/bring-back/", views.shelf_kit_bring_back, name="shelf_kit_bring_back"),
]
