"""A test that was passed over has shown nothing: every skip and every expected failure fails the run."""

import pytest

WORDS = "A skipped or expected failure is a failure here: mend the test or remove it. Reason given: {}"


def fail_if_passed_over(report: pytest.TestReport | pytest.CollectReport) -> None:
    """Turn a skip, an xfail or an unexpected pass into a failure."""
    expected = getattr(report, "wasxfail", None)
    if report.outcome != "skipped" and expected is None:
        return
    reason = expected or report.longrepr
    if isinstance(reason, tuple):
        reason = reason[-1]
    if expected is not None:
        del report.wasxfail  # else it would still be counted as expected
    report.outcome = "failed"
    report.longrepr = WORDS.format(reason)
