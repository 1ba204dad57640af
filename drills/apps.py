from django.apps import AppConfig


class DrillsConfig(AppConfig):
    name = "drills"
    verbose_name = "Drills"

    def ready(self) -> None:
        from club.actions import when_pitches_change
        from drills.actions import ask_to_rederive

        when_pitches_change(ask_to_rederive)
