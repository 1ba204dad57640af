"""The library over HTTP: the same queries and actions as the pages."""
