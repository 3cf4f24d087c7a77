"""What is wrong in a workbook or a zip of CSV files, where, and what would be right.

A fault follows the place in the file that it is about, and goes on from there.
"""

from collections.abc import Mapping

from config.messages.message import Message, message

# Places.
ROW = message("workbook.row", "{sheet} row {row}")
COLUMN = message("workbook.column", "{sheet} row {row} column {column}")
CELL = message("workbook.cell", "{sheet} row {row}, {header} ({cell})")
WITHIN = message("workbook.within", "{place}, {part}")

# Files that are not read at all.
TOO_LARGE = message("workbook.too-large", "the file is larger than {most} MB; send a smaller one")
OLD_OR_LOCKED = message(
    "workbook.old-or-locked",
    "an old .xls or a file with a password; save it as .xlsx without one",
)
CUT_OFF = message("workbook.cut-off", "cut off or damaged: {why}; send the file again")
TOO_MANY_FILES = message(
    "workbook.too-many-files", "more than {most} files within it; a house has a few dozen"
)
FILE_TWICE = message("workbook.file-twice", "a file within it is there twice; save it again")
UNPACKS_LARGE = message(
    "workbook.unpacks-large", "it unpacks to more than {most} MB; send a smaller one"
)
PASSWORD = message("workbook.password", "it has a password; save it without one")
UNWANTED: Mapping[str, Message] = {
    "vbaproject": message("workbook.macros", "it holds macros; save it as .xlsx without them"),
    "xl/externallinks/": message(
        "workbook.links", "it is linked to other files; break the links and save it again"
    ),
    "xl/connections.xml": message(
        "workbook.connections", "it is connected to outside data; remove the connection"
    ),
    "xl/embeddings/": message("workbook.embeddings", "it has other files embedded; remove them"),
    "xl/activex/": message("workbook.activex", "it holds ActiveX controls; remove them"),
    "xl/macrosheets/": message("workbook.macro-sheets", "it holds macro sheets; remove them"),
}
"""Parts of a workbook that no house needs, and what to do."""
PART_MISSING = message("workbook.part-missing", "{file} is missing within it; save the file again")
PART_DAMAGED = message("workbook.part-damaged", "{file} within it is damaged: {why}")
NOT_SOUND = message("workbook.not-sound", "not a sound workbook: {why}; save it again")
NO_CONTENTS = message("workbook.no-contents", "the sheet {sheet} has no contents; save it again")
NOTHING_WITHIN = message("workbook.nothing-within", "no workbook and no CSV file within it")
TOO_MUCH = message("workbook.too-much", "{sheet}: more rows or cells than a house can have")
TOO_MANY_ROWS = message(
    "workbook.too-many-rows", "{sheet}: more than {most} rows; delete the empty ones below"
)
MANY_ELEMENTS = message(
    "workbook.many-elements",
    "more than {most} elements in one sheet; a house has fewer. Delete what is formatted and empty",
)
DEEP = message(
    "workbook.deep", "nested more than {most} deep; save it again from a spreadsheet program"
)
FAR_COLUMN = message(
    "workbook.far-column", "a cell in column {column}; a house needs fewer than {most}"
)

# Sheets, rows and headers.
NO_HOUSE_SHEET = message(
    "workbook.no-house-sheet", "the sheet is missing; it holds format and name"
)
UNKNOWN_SHEET = message("workbook.unknown-sheet", "is not a sheet of a house; they are {sheets}")
SHEET_TWICE = message("workbook.sheet-twice", "is there twice; keep one of them")
ONE_ROW = message("workbook.one-row", "a house has one row here; delete this one")
UNKNOWN_HEADER = message("workbook.unknown-header", "{header} is not a known header")
HEADER_TWICE = message("workbook.header-twice", "{header} is there twice; delete one")
NO_HEADER = message("workbook.no-header", "is under no known header")
NO_OWNER = message("workbook.no-owner", "there is no {thing} {name} on the sheet {sheet}")
MERGED = message("workbook.merged", "cells {cells} are merged; unmerge them")
CSV_NOT_UTF_8 = message("workbook.csv-not-utf-8", "not UTF-8 at byte {byte}; save it as CSV UTF-8")
CSV_NOT_SOUND = message("workbook.csv-not-sound", "not sound CSV: {why}")

# Cells.
TOO_LONG = message("workbook.too-long", "is longer than {most} characters")
ONE_OF = message("workbook.one-of", "must be one of {choices}, not {given}")
YES_OR_NO = message("workbook.yes-or-no", "must be yes or no, not {given}")
WHOLE = message("workbook.whole", "must be a whole number, not {given}")
NUMBER = message("workbook.number", "must be a number, not {given}")
LENGTH = message(
    "workbook.length", "must be a length such as 3810, 3.81 m or 12' 6 1/2\", not {given}"
)
NUMBER_IN = message(
    "workbook.number-in", "must be a number in {unit} (or with {others}), not {given}"
)
SIZE = message("workbook.size", "must be a size such as 14, 14 AWG, 2/0 or 2.08 mm², not {given}")
NO_AWG = message("workbook.no-awg", "{given} is not an AWG size; the nearest is {near}, {area} mm²")
WIRE_SIZE = message("workbook.wire-size", "must be a wire size, not {given}")
FORMULA_GIVES = message("workbook.formula-gives", "a formula gives {given}; type the value instead")
NO_RESULT = message("workbook.no-result", "a formula without a result; type the value instead")
NO_TEXT = message("workbook.no-text", "text that is missing from the file; type the value again")
DATE = message(
    "workbook.date", "the program made a date of it; set the cell to text and type it again"
)
