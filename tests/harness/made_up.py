"""How hypothesis makes values up. In the suite the same ones each time, and no clock decides: a busy machine fails nothing.

`make test ARGS=--hypothesis-profile=new` makes up new ones.
"""

from hypothesis import HealthCheck, settings


def profiles() -> None:
    """Register both, and take the suite's."""
    patient = settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
    settings.register_profile("suite", patient, derandomize=True)
    settings.register_profile("new", patient)
    settings.load_profile("suite")
