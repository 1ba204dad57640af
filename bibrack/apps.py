from django.apps import AppConfig


class BibrackConfig(AppConfig):
    name = "bibrack"
    verbose_name = "Bibrack"

    def ready(self) -> None:
        from bibrack import checks  # noqa: F401  (registers the system checks)
