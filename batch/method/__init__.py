"""The method: one law or one clause a function, numbers in, numbers out, each with its equation, units, source and a worked example."""
