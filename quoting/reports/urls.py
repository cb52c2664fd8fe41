from django.urls import path

from quoting.reports import views

urlpatterns = [
    path("", views.report_list, name="report_list"),
    path("<str:key>/", views.report, name="report"),
    path("<str:key>/<str:table>.csv", views.report_csv, name="report_csv"),
]
