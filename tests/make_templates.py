"""Makes the shipped blank workbooks anew from the specification: `python -m tests.make_templates`."""

from __future__ import annotations

from batch.report import blank
from tests.test_template import SI, TEMPLATES, US

if __name__ == "__main__":
    TEMPLATES.mkdir(exist_ok=True)
    for path, us in ((US, True), (SI, False)):
        blank(path, us=us)
        print(path)
