from django.urls import path

from inventory.labels import views

urlpatterns = [path("shelf/labels/", views.label_new, name="label_new")]
