"""How long `size` takes and how much memory, against bare reading and writing of the same cells. Run: `python -m tests.benchmarks`."""
