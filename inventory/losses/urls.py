from django.urls import path

from inventory.losses import views

urlpatterns = [path("shelf/losses/", views.loss_list, name="loss_list")]
