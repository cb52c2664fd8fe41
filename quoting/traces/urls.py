from django.urls import path

from quoting.traces import views

urlpatterns = [
    path("<int:piece_pk>/trace/", views.trace_photo, name="trace_photo"),
    path("<int:piece_pk>/trace/off/", views.trace_off, name="trace_off"),
    path("<int:piece_pk>/trace/picture/", views.trace_picture, name="trace_picture"),
    path("<int:piece_pk>/trace/<int:photo_pk>/", views.trace_on_photo, name="trace_on_photo"),
    path("<int:piece_pk>/trace/<int:photo_pk>/measure/", views.trace_measure, name="trace_measure"),
]
