from django.urls import path

from quoting.bench import views

urlpatterns = [
    path("", views.bench, name="bench"),
    path("plan/", views.bench_plan_anew, name="bench_plan_anew"),
    path("<int:pk>/pin/", views.bench_pin, name="bench_pin"),
]
