from django.urls import path

from quoting.pieces import views

urlpatterns = [
    path("new/<int:quote_pk>/", views.piece_new, name="piece_new"),
    path("<int:pk>/", views.piece_edit, name="piece_edit"),
    path("<int:pk>/estimate/", views.piece_estimate, name="piece_estimate"),
    path("<int:pk>/delete/", views.piece_remove, name="piece_delete"),
    path("<int:pk>/copy/", views.piece_copy, name="piece_copy"),
]
