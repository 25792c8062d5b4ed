"""The invented jobs of `sample_jobs/`, as data. `tests/make_samples.py` writes them."""
