from django.apps import AppConfig


class TrainingConfig(AppConfig):
    """Labelled `training`, since Django's own sessions have the label `sessions`."""

    name = "sessions"
    label = "training"
    verbose_name = "Training"

    def ready(self) -> None:
        """Proposals keep their jobs in their own room, where the library for jobs doesn't look by itself.

        The library asks here how often its drills were run and how hard that was, the club what whoever leaves would leave uncovered.
        """
        from club.queries import leaving
        from drills.queries.runs import counted_by, felt_by
        from sessions.pages.needs import left_behind
        from sessions.proposals import tasks  # noqa: F401
        from sessions.queries.recorded.felt import felt_lately
        from sessions.queries.recorded.runs import run_row

        counted_by(run_row)
        felt_by(felt_lately)
        leaving.asked.append(left_behind)
