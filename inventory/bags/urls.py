from django.urls import path

from inventory.bags import views

urlpatterns = [
    # As short as can be: it is what the codes on the labels hold.
    path("b/<slug:tag>/", views.bag_by_tag, name="bag_by_tag"),
    path("shelf/bags/<int:pk>/", views.bag_detail, name="bag_detail"),
    path("shelf/bags/<int:pk>/edit/", views.bag_edit, name="bag_edit"),
    path("shelf/bags/<int:pk>/do/<slug:deed>/", views.bag_do, name="bag_do"),
]
