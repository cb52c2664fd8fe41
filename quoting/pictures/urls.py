from django.urls import path

from quoting.pictures import views

urlpatterns = [
    path("<int:pk>/picture/", views.piece_picture, name="piece_picture"),
    path(
        "<int:pk>/picture.svg", views.piece_picture_save, {"kind": "svg"}, name="piece_picture_svg"
    ),
    path(
        "<int:pk>/picture.png", views.piece_picture_save, {"kind": "png"}, name="piece_picture_png"
    ),
]
