from django.urls import path

from quoting.calling_off import views

urlpatterns = [
    path("jobs/<int:pk>/call-off/", views.job_call_off, name="job_call_off"),
]
