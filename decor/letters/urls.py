from django.urls import path

from decor.letters import text_views, views, writing_views

urlpatterns = [
    path("letters/", views.letter_list, name="letter_list"),
    path("letters/<int:pk>/", views.letter_detail, name="letter_detail"),
    path("letters/<int:pk>/attached/", views.letter_attachment, name="letter_attachment"),
    path("letters/<int:pk>/try-again/", views.letter_try_again, name="letter_try_again"),
    path("letters/<int:pk>/stop/", views.letter_stop, name="letter_stop"),
    path("letters/words/", text_views.letter_text_list, name="letter_text_list"),
    path("letters/words/<slug:kind>/", text_views.letter_text, name="letter_text"),
    path("letters/words/<slug:kind>/ours/", text_views.letter_text_reset, name="letter_text_reset"),
    path("jobs/<int:pk>/letters/new/", writing_views.letter_choose, name="letter_choose"),
    path("jobs/<int:pk>/letters/new/<slug:kind>/", writing_views.letter_new, name="letter_new"),
    path(
        "jobs/<int:pk>/letters/new/<slug:kind>/copy/",
        writing_views.letter_copy,
        name="letter_copy",
    ),
]
