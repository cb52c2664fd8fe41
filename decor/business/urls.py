from django.urls import path

from decor.business import views

urlpatterns = [
    path("business/", views.business_edit, name="business_edit"),
    path("business/logo/", views.business_logo, name="business_logo"),
]
