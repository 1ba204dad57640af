"""PURE: entries of a calendar to and from iCalendar (RFC 5545), and rows of a pasted table. No Django here."""
