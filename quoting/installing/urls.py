from django.urls import path

from quoting.installing import views

urlpatterns = [
    path("<int:pk>/sheet/", views.visit_page, name="visit_page"),
    path("<int:pk>/sheet.pdf", views.visit_pdf, name="visit_pdf"),
    path("<int:pk>/check/", views.visit_check, name="visit_check"),
    path("<int:pk>/told/", views.visit_told, name="visit_told"),
    path("<int:pk>/clock/", views.visit_clock, name="visit_clock"),
    path("<int:pk>/forecast/", views.visit_forecast, name="visit_forecast"),
    path("<int:pk>/sign/", views.visit_sign, name="visit_sign"),
    path("<int:pk>/finish/", views.visit_finish, name="visit_finish"),
    path("<int:pk>/take/", views.visit_take, name="visit_take"),
    path("<int:pk>/give-back/<int:material_pk>/", views.visit_give_back, name="visit_give_back"),
]
