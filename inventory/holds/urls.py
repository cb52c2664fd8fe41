from django.urls import path

from inventory.holds import views

urlpatterns = [
    path("jobs/<int:job_pk>/", views.shelf_job, name="shelf_job"),
    path("jobs/<int:job_pk>/firm/", views.shelf_job_firm, name="shelf_job_firm"),
    path("jobs/<int:job_pk>/kit/", views.shelf_job_kit, name="shelf_job_kit"),
    path("holds/<int:pk>/take/", views.shelf_hold_take, name="shelf_hold_take"),
    path("kit-holds/<int:pk>/give-back/", views.shelf_kit_give_back, name="shelf_kit_give_back"),
]
