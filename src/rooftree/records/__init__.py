"""Records: job file, database, attachments, weather files."""
