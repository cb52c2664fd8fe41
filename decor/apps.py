from django.apps import AppConfig


class DecorConfig(AppConfig):
    name = "decor"
    verbose_name = "Clients and jobs"
