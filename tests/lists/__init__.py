"""Customers' lists written without sight of the reader, each with the truth of every row; `python -m tests.lists` scores them."""
