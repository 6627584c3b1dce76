"""Units at the edge: parsing what people type and showing what they read."""
