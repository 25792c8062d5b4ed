"""Makes the shipped blank workbooks anew from the specification: `python -m tests.make_templates`."""

from __future__ import annotations

import batch
from batch.quoting.letter import write_template
from tests.test_template import SI, TEMPLATES, US

LETTER = TEMPLATES / "letters" / "quotation.docx"

if __name__ == "__main__":
    LETTER.parent.mkdir(parents=True, exist_ok=True)
    write_template(LETTER)
    print(LETTER)
    for path, us in ((US, True), (SI, False)):
        batch.blank(path, us=us)
        print(path)
