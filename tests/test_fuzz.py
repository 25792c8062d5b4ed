"""Fuzz over the bytes of a workbook: whatever was changed, it is read with every row accounted for, or refused in one line.

All but the first 300 mutants are marked slow: `python -m pytest -m "slow or not slow" tests/test_fuzz.py` runs them too.
A child process reads the mutants, so that a breakdown of a native reader is seen and told with the mutant that did it, and so
that its memory can be held to a limit.
"""

from __future__ import annotations

import os
import random
import struct
import subprocess
import sys
import zlib
from pathlib import Path

import pytest

from batch.errors import InputFileError
from batch.intake.job import assemble
from batch.intake.workbook import open_workbook
from tests.intake_book import GOOD, HEADINGS, F, N, book, ods

MUTANTS = 2400  # of each run; at least 2,000 are asked for
BATCHES = 8
MEMORY = 1 << 30  # bytes of address space beyond what the interpreter and its libraries take
LIBRARIES = 1 << 30
SECONDS = 20  # for any one mutant; enforced by an alarm in the child
SEED = 20240506

HEATERS = [HEADINGS, *[[f"T-{n}", n % 9 + 1, 6, 480, 1] for n in range(30)], ["T-x", F("=1/0", "#DIV/0!"), "3 x 6 kW", "480/3/60", 1]]
SOURCES = {
    "xlsx": book({"Heaters": HEATERS, "Projects": [["Project", "Continuous-load margin"], ["P", N(0.25, "0%")]], "Notes": [["x" * 500]]}),
    "ods": ods(HEADINGS, GOOD),
}


def mutant(data: bytes, dice: random.Random) -> bytes:
    """One to eight changes: bytes set, cut out, repeated, put in, the file cut short; or a part changed and packed anew."""
    changed = bytearray(data)
    if dice.random() < 0.5:
        return inside(data, dice)
    for _ in range(dice.choice((1, 1, 2, 4, 8))):
        at, how = dice.randrange(len(changed) or 1), dice.randrange(6)
        if how == 0 and changed:
            changed[at] = dice.randrange(256)
        elif how == 1:
            del changed[at : at + dice.randrange(1, 64)]
        elif how == 2:
            changed[at:at] = changed[at : at + dice.randrange(1, 64)]
        elif how == 3:
            changed[at:at] = dice.randbytes(dice.randrange(1, 16))
        elif how == 4:
            changed[at : at + 4] = struct.pack("<I", dice.choice((0, 1, 0x7FFFFFFF, 0xFFFFFFFF)))
        else:
            del changed[at:]
    return bytes(changed)


TOKENS = (
    b'"', b"<", b">", b"/", b"&", b"\0", b"<c>", b"</row>", b'r="XFD1048576"', b't="s"', b't="e"', b"<v>9999999</v>", b"&#xD800;", b"-1",
    b"1e999", b"nan", b"<!--", b"]]>", b"<f>", b'count="99999999"', b'<mergeCell ref="A1:XFD1048576"/>', b"xml:space", b"<si/>",
)  # fmt: skip


def inside(data: bytes, dice: random.Random) -> bytes:
    """A part of the package changed, every checksum and size right again: what a careless or an evil program would write."""
    import io
    import zipfile

    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as before, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as after:
        names = before.namelist()
        chosen = dice.choice(names)
        for name in names:
            content = bytearray(before.read(name))
            for _ in range(dice.choice((1, 1, 2, 5)) if name == chosen else 0):
                at, how = dice.randrange(len(content) or 1), dice.randrange(5)
                if how == 0:
                    content[at : at + dice.randrange(3)] = dice.choice(TOKENS)
                elif how == 1:
                    content[at : at + 1] = dice.randbytes(1)
                elif how == 2:
                    del content[at : at + dice.randrange(1, 200)]
                elif how == 3:
                    start = dice.randrange(len(content) or 1)
                    content[at:at] = content[start : start + dice.randrange(1, 200)]
                else:
                    content[at:at] = str(dice.choice((-1, 0, 2**31, 2**63, 10**30))).encode()
            if name != chosen or dice.random() > 0.05:  # now and then the part is missing
                after.writestr(name, bytes(content))
    return out.getvalue()


def judge(data: bytes) -> str:
    """What is wrong with how a mutant was taken; "" = nothing."""
    try:
        job = assemble(open_workbook(data, "any"), "any", "")
    except InputFileError as refusal:
        return "" if "\n" not in str(refusal) else f"a refusal of several lines: {refusal!r}"
    kept = {(row.sheet, row.row) for table in job.received if table.kind == "heaters" for row in table.rows if not row.refused}
    return "" if kept == {(bank.origin.sheet, bank.origin.row) for bank in job.banks} else "rows kept are not the records"


def run_batch(kind: str, number: int, count: int) -> int:
    """The child: judges its share of the mutants and tells of each on standard output before it begins, and of what is wrong."""
    import resource
    import signal

    resource.setrlimit(resource.RLIMIT_AS, (MEMORY + LIBRARIES, MEMORY + LIBRARIES))
    dice = random.Random(f"{SEED} {kind} {number}")
    wrong = 0
    for at in range(count):
        data = mutant(SOURCES[kind], dice)
        print(f"at {number}/{at} {zlib.crc32(data):08x} {len(data)}", flush=True)
        signal.alarm(SECONDS)  # ends the child where one takes longer
        try:
            fault = judge(data)
        except BaseException as broken:
            fault = f"{type(broken).__name__}: {broken}"
        signal.alarm(0)
        if fault:
            wrong += 1
            print(f"WRONG {fault[:300]!r}", flush=True)
    print("done", flush=True)
    return 1 if wrong else 0


@pytest.mark.parametrize("number", [0, *(pytest.param(number, marks=pytest.mark.slow) for number in range(1, BATCHES))])
def test_no_mutant_of_a_workbook_is_a_crash_a_hang_or_too_much_memory(number: int) -> None:
    _child("xlsx", number, MUTANTS // BATCHES)


@pytest.mark.slow
def test_no_mutant_of_an_opendocument_sheet_is_either() -> None:
    """Each of these takes a process of its own, so they are few."""
    _child("ods", 0, 40)


def _child(kind: str, number: int, count: int) -> None:
    root = str(Path(__file__).resolve().parents[1])
    around = {**os.environ, "PYTHONPATH": root}
    call = f"import sys; from tests.test_fuzz import run_batch; sys.exit(run_batch({kind!r}, {number}, {count}))"
    command = [sys.executable, "-c", call]
    child = subprocess.run(command, capture_output=True, text=True, env=around, cwd=root, check=False)
    lines = child.stdout.splitlines()
    wrong = [(before, line) for before, line in zip(["", *lines], lines, strict=False) if line.startswith("WRONG")]
    assert not wrong, wrong[:5]
    assert lines and lines[-1] == "done", f"the child ended with {child.returncode} at {lines[-1:]}: {child.stderr[-500:]}"
    assert sum(line.startswith("at ") for line in lines) == count
    assert child.returncode == 0
