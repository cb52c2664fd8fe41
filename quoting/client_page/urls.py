from django.urls import path

from quoting.client_page import owner_views, views

urlpatterns = [
    path("quotes/<int:pk>/links/new/", owner_views.quote_link_new, name="quote_link_new"),
    path("client-links/<int:pk>/revoke/", owner_views.quote_link_revoke, name="quote_link_revoke"),
    path("questions/<int:pk>/answered/", owner_views.question_answered, name="question_answered"),
    path("q/<str:token>/", views.page_open, name="client_page_open"),
    path("your-quote/<int:pk>/", views.page, name="client_page"),
    path("your-quote/<int:pk>/accept/", views.accept, name="client_page_accept"),
    path("your-quote/<int:pk>/decline/", views.decline, name="client_page_decline"),
    path("your-quote/<int:pk>/ask/", views.ask, name="client_page_ask"),
    path("your-quote/<int:pk>/quote.pdf", views.pdf, name="client_page_pdf"),
    path("your-quote/<int:pk>/day.ics", views.day, name="client_page_day"),
    path("your-quote/<int:pk>/logo/", views.logo, name="client_page_logo"),
    path("your-quote/<int:pk>/photo/<int:number>/", views.photo, name="client_page_photo"),
]
