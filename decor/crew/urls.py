from django.urls import path

from decor.crew import views

urlpatterns = [path("crew/", views.crew_list, name="crew_list")]
