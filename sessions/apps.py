from django.apps import AppConfig


class TrainingConfig(AppConfig):
    """Labelled `training`, since Django's own sessions have the label `sessions`."""

    name = "sessions"
    label = "training"
    verbose_name = "Training"
