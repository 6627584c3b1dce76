"""House parameters against tests and bills."""
