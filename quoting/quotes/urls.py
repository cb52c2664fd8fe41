from django.urls import path

from quoting.quotes import edition_views, line_views, views

urlpatterns = [
    path("for-job/<int:job_pk>/", views.quote_new, name="quote_new"),
    path("<int:pk>/", views.quote_detail, name="quote_detail"),
    path("<int:pk>/edit/", views.quote_edit, name="quote_edit"),
    path("<int:pk>/discount/", views.quote_discount, name="quote_discount"),
    path("<int:pk>/current-rates/", views.quote_current_rates, name="quote_current_rates"),
    path("<int:pk>/discard/", views.quote_discard, name="quote_discard"),
    path("<int:quote_pk>/lines/new/", line_views.quote_line_new, name="quote_line_new"),
    path("lines/<int:pk>/", line_views.quote_line_edit, name="quote_line_edit"),
    path("lines/<int:pk>/remove/", line_views.quote_line_remove, name="quote_line_remove"),
    path("<int:pk>/send/", edition_views.quote_send, name="quote_send"),
    path("<int:pk>/preview.pdf", edition_views.quote_preview_pdf, name="quote_preview_pdf"),
    path("<int:pk>/editions/<int:number>/", edition_views.quote_edition, name="quote_edition"),
    path("<int:pk>/editions/<int:number>.pdf", edition_views.edition_pdf, name="edition_pdf"),
]
