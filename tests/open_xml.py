"""Every kind of workbook that the program writes, held against the Open XML schema: `python -m tests.open_xml VALIDATOR [FOLDER]`.

VALIDATOR is a program around the validator of the Open XML SDK that takes a file and a version and prints {"errors": [...]}. Every
sample is sized in US units and SI and filled, revisions are sized with decisions kept and compared, and blank jobs are written. No error
is waved through; a filled workbook is a customer's own, so there none may be new.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import batch
from batch.errors import CannotFill, InputFileError
from tests.make_samples import HERE
from tests.samples import customer

VERSIONS = ("Office2007", "Microsoft365")  # the oldest schema and the newest
MAPPED = {"customer-list": HERE / customer.MAP}


def samples() -> list[Path]:
    """The job workbooks among the samples, those among them that cannot be read included."""
    return [path for path in sorted(HERE.rglob("*.xls?")) if " sized" not in path.stem and " filled" not in path.stem]


def written(folder: Path) -> Iterator[tuple[Path, Path | None]]:
    """Each workbook written, and the customer's own that it was made from (of a filled one)."""
    for us in (True, False):
        yield batch.blank(folder / f"blank {us}.xlsx", us=us), None
    results = {}
    for path in samples():
        stem = path.relative_to(HERE).as_posix().replace("/", ", ")
        plan = MAPPED.get(path.stem)
        for us in (True, False):
            try:
                result = batch.size(path, folder / f"{stem} {us}.xlsx", column_map=plan, us=us, stamp="today")
            except InputFileError:  # a sample that cannot be read
                continue
            results[path.stem] = Path(result.written)
            yield results[path.stem], None
        try:
            yield Path(batch.fill(path, folder / f"{stem} filled{path.suffix}", column_map=plan).written), path
        except (InputFileError, CannotFill):  # a kind of file that is not filled
            continue
    revisions = [results[f"line-4-rev-{name}"] for name in "ABC"]
    kept = batch.size(HERE / "revisions" / "line-4-rev-B.xlsx", folder / "kept.xlsx", keep_from=revisions[0])
    yield Path(kept.written), None
    yield Path(batch.compare(*revisions[:2], target=folder / "compared.xlsx").written), None
    yield Path(batch.compare(*revisions, target=folder / "history.xlsx").written), None
    yield Path(batch.compare(results["small-clean"], results["whole-plant"], target=folder / "nothing alike.xlsx").written), None


def errors(validator: str, path: Path, version: str) -> Counter[tuple[str, str, str]]:
    """What the schema of a version says against a workbook: (part, kind, words) and how often."""
    run = subprocess.run([validator, str(path), version], capture_output=True, text=True, timeout=600)
    if not run.stdout.strip():
        sys.exit(f"the validator did not run: {run.stderr.strip() or run.returncode}")
    said = json.loads(run.stdout)["errors"]
    return Counter((one["path"] or "", one["id"] or one["errorType"], one["description"]) for one in said)


def main(validator: str, folder: Path) -> int:
    """Prints every error; the number of workbooks that have any."""
    faulty = checked = fills = 0
    for path, own in written(folder):
        checked, fills = checked + 1, fills + (own is not None)
        found: dict[tuple[str, str, str], list[str]] = {}
        for version in VERSIONS:
            new = errors(validator, path, version) - (errors(validator, own, version) if own else Counter())
            for error in new:
                found.setdefault(error, []).append(f"{version}: {new[error]}")
        faulty += bool(found)
        for (part, kind, words), versions in found.items():
            print(f"{path.name}: {part}: {kind}: {words} ({', '.join(versions)})")
    print(f"{checked} workbooks ({fills} filled) against the Open XML schema of {' and '.join(VERSIONS)}: {faulty} with errors")
    return faulty


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    with tempfile.TemporaryDirectory() as scratch:
        sys.exit(bool(main(sys.argv[1], Path(sys.argv[2] if len(sys.argv) > 2 else scratch))))
