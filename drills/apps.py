from django.apps import AppConfig


class DrillsConfig(AppConfig):
    name = "drills"
    verbose_name = "Drills"
