"""Published tables as CSV, each with its citation."""
