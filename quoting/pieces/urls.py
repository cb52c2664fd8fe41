from django.urls import path

from quoting.pieces import budget_views, variant_views, views

urlpatterns = [
    path("new/<int:quote_pk>/", views.piece_new, name="piece_new"),
    path("<int:pk>/", views.piece_edit, name="piece_edit"),
    path("<int:pk>/estimate/", views.piece_estimate, name="piece_estimate"),
    path("<int:pk>/chances/", views.piece_chances, name="piece_chances"),
    path("<int:pk>/explain/", views.piece_explain, name="piece_explain"),
    path("<int:pk>/delete/", views.piece_remove, name="piece_delete"),
    path("<int:pk>/copy/", views.piece_copy, name="piece_copy"),
    path("<int:pk>/fit/", budget_views.piece_fit_try, name="piece_fit_try"),
    path("<int:pk>/fit/use/", budget_views.piece_fit_use, name="piece_fit_use"),
    path("<int:pk>/fit/undo/", budget_views.piece_fit_undo, name="piece_fit_undo"),
    path("<int:pk>/variants/", variant_views.piece_variants, name="piece_variants"),
    path("<int:pk>/variants/add/", variant_views.piece_variant_add, name="piece_variant_add"),
    path("<int:pk>/variants/choose/", variant_views.piece_choose, name="piece_choose"),
]
