from django.urls import path

from inventory.deliveries import views

urlpatterns = [
    path("shelf/deliveries/", views.delivery_list, name="delivery_list"),
    path("shelf/deliveries/new/", views.delivery_new, name="delivery_new"),
    path("shelf/deliveries/csv/", views.delivery_csv, name="delivery_csv"),
    path("shelf/deliveries/<int:pk>/", views.delivery_detail, name="delivery_detail"),
]
