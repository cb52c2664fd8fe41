from django.urls import path

from quoting.client_page import views

urlpatterns = [
    path("q/<str:token>/", views.client_page_open, name="client_page_open"),
]
