from django.urls import path

from quoting.first_run import views

urlpatterns = [
    path("begin/", views.first_run, name="first_run"),
]
