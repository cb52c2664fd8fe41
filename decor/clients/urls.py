from django.urls import path

from decor.clients import site_views, views

urlpatterns = [
    path("clients/", views.client_list, name="client_list"),
    path("clients/<int:pk>/", views.client_detail, name="client_detail"),
    path("clients/<int:pk>/edit/", views.client_edit, name="client_edit"),
    path("clients/<int:pk>/archive/", views.client_archive, name="client_archive"),
    path("clients/<int:pk>/bring-back/", views.client_bring_back, name="client_bring_back"),
    path("clients/<int:pk>/places/new/", site_views.site_add, name="site_add"),
    path("places/<int:pk>/edit/", site_views.site_edit, name="site_edit"),
]
