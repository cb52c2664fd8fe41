from django.urls import path

from decor.jobs import enquiry_views, photo_views, views

urlpatterns = [
    path("jobs/", views.job_list, name="job_list"),
    path("jobs/new/", enquiry_views.enquiry_new, name="enquiry_new"),
    path("jobs/new/same-people/", enquiry_views.enquiry_same_people, name="enquiry_same_people"),
    path("jobs/new/photos/", enquiry_views.enquiry_photos, name="enquiry_photos"),
    path("jobs/<int:pk>/", views.job_detail, name="job_detail"),
    path("jobs/<int:pk>/edit/", views.job_edit, name="job_edit"),
    path("jobs/<int:pk>/move/", views.job_move, name="job_move"),
    path("jobs/<int:pk>/archive/", views.job_archive, name="job_archive"),
    path("jobs/<int:pk>/bring-back/", views.job_bring_back, name="job_bring_back"),
    path("jobs/<int:pk>/photos/", photo_views.job_photo_add, name="job_photo_add"),
    path("photos/<int:pk>/", photo_views.photo, name="photo"),
    path("photos/<int:pk>/small/", photo_views.photo_small, name="photo_small"),
    path("photos/<int:pk>/remove/", photo_views.photo_remove, name="photo_remove"),
]
