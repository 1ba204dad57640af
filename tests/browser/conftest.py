"""Fixtures that several journeys share."""

from tests.browser.at_the_pitch import pitch
from tests.browser.at_the_sheet import sheet

__all__ = ["pitch", "sheet"]
