"""The web server: requests are taken in whole, within limits, before a thread of the site sees them. No Django."""
