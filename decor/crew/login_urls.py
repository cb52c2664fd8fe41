from django.urls import path

from decor.crew import login_views, work_views

urlpatterns = [
    path("work/", work_views.work_today, name="work_today"),
    path("password/", login_views.own_password, name="own_password"),
    path("crew/<int:pk>/login/", login_views.crew_login_new, name="crew_login_new"),
    path("crew/<int:pk>/login/again/", login_views.crew_login_renew, name="crew_login_renew"),
    path("crew/<int:pk>/login/off/", login_views.crew_login_off, name="crew_login_off"),
]
