from django.urls import path

from decor.crew import views

urlpatterns = [
    path("crew/", views.crew_list, name="crew_list"),
    path("crew/new/", views.crew_new, name="crew_new"),
    path("crew/<int:pk>/", views.crew_edit, name="crew_edit"),
    path("crew/<int:pk>/archive/", views.crew_archive, name="crew_archive"),
    path("crew/<int:pk>/bring-back/", views.crew_bring_back, name="crew_bring_back"),
]
