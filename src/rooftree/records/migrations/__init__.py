"""Steps by which the database follows the program."""
