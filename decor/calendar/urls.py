from django.urls import path

from decor.calendar import feed_views, session_views, views, visit_views

urlpatterns = [
    path("calendar/", views.calendar_month, name="calendar_month"),
    path("calendar/week/", views.calendar_week, name="calendar_week"),
    path("calendar/agenda/", views.calendar_agenda, name="calendar_agenda"),
    path("calendar/feeds/", feed_views.calendar_feeds, name="calendar_feeds"),
    path(
        "calendar/feeds/<int:pk>/revoke/",
        feed_views.calendar_feed_revoke,
        name="calendar_feed_revoke",
    ),
    path("calendar/feed/<str:token>.ics", feed_views.calendar_feed, name="calendar_feed"),
    path("jobs/<int:pk>/bench/new/", session_views.session_new, name="session_new"),
    path("bench/<int:pk>/edit/", session_views.session_edit, name="session_edit"),
    path("bench/<int:pk>/off/", session_views.session_off, name="session_off"),
    path("jobs/<int:pk>/visits/new/<str:kind>/", visit_views.visit_new, name="visit_new"),
    path("visits/<int:pk>/edit/", visit_views.visit_edit, name="visit_edit"),
    path("visits/<int:pk>/off/", visit_views.visit_off, name="visit_off"),
    path("visits/<int:pk>/mark/", visit_views.visit_mark, name="visit_mark"),
    path("visits/<int:pk>/visit.ics", visit_views.visit_ics, name="visit_ics"),
]
