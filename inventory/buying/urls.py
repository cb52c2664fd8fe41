from django.urls import path

from inventory.buying import order_views, views

urlpatterns = [
    path("buy-list/", views.buy_list_page, name="buy_list"),
    path("buy-list/csv/", views.buy_list_file, name="buy_list_csv"),
    path("orders/", order_views.order_list, name="order_list"),
    path("orders/new/", views.order_new, name="order_new"),
    path("orders/<int:pk>/", order_views.order_detail, name="order_detail"),
    path("orders/<int:pk>/receive/", order_views.order_receive_page, name="order_receive"),
    path("orders/<int:pk>/expect/", order_views.order_expect, name="order_expect"),
    path("orders/<int:pk>/call-off/", order_views.order_call_off, name="order_call_off"),
]
