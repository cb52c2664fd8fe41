from django.urls import path

from quoting.look_back import views

urlpatterns = [
    path("<int:job_pk>/look-back/", views.look_back, name="look_back"),
    path("<int:job_pk>/look-back/save/", views.look_back_save, name="look_back_save"),
    path("<int:job_pk>/look-back/open-again/", views.look_back_reopen, name="look_back_reopen"),
    path("<int:job_pk>/look-back/hours/", views.look_back_hours, name="look_back_hours"),
    path(
        "<int:job_pk>/look-back/hours/<int:pk>/remove/",
        views.look_back_hours_remove,
        name="look_back_hours_remove",
    ),
]
