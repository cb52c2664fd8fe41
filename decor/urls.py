"""All addresses. Each room keeps its own list; this one only joins them."""

from django.contrib.auth import views as auth
from django.urls import include, path

from decor.today.views import today

urlpatterns = [
    path("", today, name="home"),
    path("login/", auth.LoginView.as_view(redirect_authenticated_user=True), name="login"),
    path("logout/", auth.LogoutView.as_view(), name="logout"),
    path("", include("decor.business.urls")),
    path("", include("decor.calendar.urls")),
    path("", include("decor.clients.urls")),
    path("", include("decor.jobs.urls")),
    path("", include("decor.crew.urls")),
    path("", include("decor.crew.login_urls")),
    path("", include("decor.letters.urls")),
    path("", include("decor.payments.urls")),
    path("", include("inventory.urls")),
    path("", include("quoting.urls")),
]
