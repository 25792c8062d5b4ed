"""Plain lists put together from what people write, with the truth of every row: `python -m tests.lists_grammar --count 200`.

A list is drawn from its seed and language alone, so that one that was not read whole can be made again. The words are data, one file a
language, and no copy of the reader's own; everything in them is invented.
"""
