from django.urls import path

from inventory.suppliers import views

urlpatterns = [
    path("shelf/suppliers/", views.supplier_list, name="supplier_list"),
    path("shelf/suppliers/new/", views.supplier_new, name="supplier_new"),
    path("shelf/suppliers/<int:pk>/", views.supplier_detail, name="supplier_detail"),
    path("shelf/suppliers/<int:pk>/edit/", views.supplier_edit, name="supplier_edit"),
    path("shelf/suppliers/<int:pk>/archive/", views.supplier_put_away, name="supplier_put_away"),
    path("shelf/suppliers/<int:pk>/bring-back/", views.supplier_take_up, name="supplier_take_up"),
    path(
        "shelf/suppliers/bags/<int:pk>/price/",
        views.supplier_offer_price,
        name="supplier_offer_price",
    ),
    path(
        "shelf/suppliers/bags/<int:pk>/remove/",
        views.supplier_offer_remove,
        name="supplier_offer_remove",
    ),
]
