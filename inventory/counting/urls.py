from django.urls import path

from inventory.counting import views

urlpatterns = [
    path("shelf/counting/", views.counting_list, name="counting_list"),
    path("shelf/counting/begin/", views.counting_begin, name="counting_begin"),
    path("shelf/counting/sheet/", views.counting_sheet, name="counting_sheet"),
    path("shelf/counting/<int:pk>/", views.counting_detail, name="counting_detail"),
    path("shelf/counting/<int:pk>/end/", views.counting_end, name="counting_end"),
]
