"""Energy bills: what was used, what it costs and emits."""
