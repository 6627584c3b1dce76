"""Tables that people paste from a spreadsheet or load from a file.

A text becomes a table of text cells, in which nothing is lost or turned into something
else; a guess says which of its columns is which wanted one; and once a person has
confirmed the matching, its rows come out as quantities with units, with a problem for
each cell that cannot be taken.
"""

from rooftree.records.tabular.columns import Column
from rooftree.records.tabular.matching import NO_HEADINGS, Matching, guess_matching, headings_of
from rooftree.records.tabular.table import SEPARATORS, Table, read_table, text_of
from rooftree.records.tabular.taking import CellProblem, TakenRows, take_rows

__all__ = [
    "NO_HEADINGS",
    "SEPARATORS",
    "CellProblem",
    "Column",
    "Matching",
    "Table",
    "TakenRows",
    "guess_matching",
    "headings_of",
    "read_table",
    "take_rows",
    "text_of",
]
