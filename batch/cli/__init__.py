"""The command line: the only place that prints."""

import gc

SELDOM = 400_000  # new objects between two searches for loops of references: 3 to 5 % of a run was spent on them, and few were found
gc.set_threshold(SELDOM)  # here, so that it holds while the command is imported
