from django.urls import path

from quoting.learning import views

urlpatterns = [
    path("learned/", views.rates_learned, name="rates_learned"),
    path("learned/adopt/", views.rates_adopt, name="rates_adopt"),
    path("learned/back/", views.rates_back, name="rates_back"),
    path("learned/<int:pk>/leave-out/", views.rates_leave_out, name="rates_leave_out"),
    path("judged/", views.estimates_judged, name="estimates_judged"),
]
