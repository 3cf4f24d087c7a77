"""House workbooks: there and back, and what becomes of bad ones."""
