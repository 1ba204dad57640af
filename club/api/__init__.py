"""The club over HTTP: what programs need to read, through the same queries as the pages."""
