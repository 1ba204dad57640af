from django.apps import AppConfig


class TrainingConfig(AppConfig):
    """Labelled `training`, since Django's own sessions have the label `sessions`."""

    name = "sessions"
    label = "training"
    verbose_name = "Training"

    def ready(self) -> None:
        """Proposals keep their jobs in their own room, where the library for jobs doesn't look by itself; whoever ends a role is told what that leaves."""
        from club.queries import leaving
        from sessions.pages.needs import left_behind
        from sessions.proposals import tasks  # noqa: F401

        leaving.asked.append(left_behind)
