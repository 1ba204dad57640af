"""Pictures of every page, to be looked at by eyes: `make pictures`."""
