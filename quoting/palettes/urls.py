from django.urls import path

from quoting.palettes import views

urlpatterns = [
    path("<int:piece_pk>/palette/", views.palette_choose, name="palette_choose"),
    path("<int:piece_pk>/palette/open/", views.palette_open, name="palette_open"),
    path("<int:piece_pk>/palette/photo/", views.palette_photo, name="palette_photo"),
]
