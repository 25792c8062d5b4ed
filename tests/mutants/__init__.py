"""One-line changes of the code that the tests must catch: `python -m tests.mutants` makes each and prints those that survive."""
