from django.urls import path

from inventory.losses import views

urlpatterns = [
    path("shelf/losses/", views.loss_list, name="loss_list"),
    path("shelf/losses/<int:pk>/", views.loss_item, name="loss_item"),
]
