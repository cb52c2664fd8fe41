from django.urls import path

from inventory.free import views

urlpatterns = [
    path("free/", views.shelf_free, name="shelf_free"),
    path("items/<int:pk>/timeline/", views.shelf_timeline, name="shelf_timeline"),
]
