"""Papers: charts, section drawing, reports."""
