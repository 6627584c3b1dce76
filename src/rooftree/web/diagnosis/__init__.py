"""Charts, tables and strips of the page that says what a year of the house tells."""
