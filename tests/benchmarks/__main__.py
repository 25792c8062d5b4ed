"""`python -m tests.benchmarks [BANKS …] [--times N]`: times `size` against BARE and prints the ratios, with the targets beside them.

Each run is a process of its own; the two are run turn and turn about, and the median of each counts. Compare ratios of one run, never
seconds of two: machines differ and other work disturbs. Targets are the project's own aims, no outside source.

A job of so many banks that it is sized in sections is timed alone, since BARE writes one workbook: its cells are those of all sections, its
memory that of the largest process.

Beside them, once each, what an estimator would do instead: LibreOffice opens the same results and recalculates their formulas, and a script
of openpyxl (`by_script`) reads the list, loops, and writes a row a bank, a small part of the work.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks import jobs
from tests.recalculation import ALWAYS

ROOT = Path(__file__).resolve().parents[2]
TARGETS = {50: 2.5, 1_000: 1.0, 10_000: 1.0}  # `size` over BARE, at most
MEMORY_TARGET_MB = 500  # at 100,000 banks
PATIENCE_S = 1800  # for what is run instead


class Cost(NamedTuple):
    wall_s: float
    cpu_s: float
    peak_mb: float


def run(*command: str) -> tuple[Cost, str]:
    """One Python process to its end, see `run_any`."""
    return run_any(sys.executable, *command)


def run_any(*command: str) -> tuple[Cost, str]:
    """One process to its end: what it cost, and what it printed. Exit codes 0, 1 and 4 of `size` are work done."""
    began = time.perf_counter()
    with tempfile.TemporaryFile("w+") as out:
        process = subprocess.Popen(command, cwd=ROOT, stdout=out, stderr=subprocess.PIPE, text=True)
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        wall = time.perf_counter() - began
        complaint = process.stderr.read()
        if process.returncode not in (0, 1, 4):
            raise SystemExit(f"{' '.join(command)}: exit code {process.returncode}: {complaint}")
        out.seek(0)
        return Cost(wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024), out.read()


def compare(folder: Path, banks: int, times: int) -> tuple[Cost, Cost | None, int]:
    """Median cost of `size` and of BARE, None where the job is divided, and how many cells the results hold."""
    job, sized, captured = folder / f"{banks}.xlsx", folder / f"{banks} sized.xlsx", folder / f"{banks}.cells"
    jobs.write(job, banks)
    run("-m", "batch", "size", str(job), "-o", str(sized), "--stamp", "")
    # in a process of its own: a child begins with its parent's peak of memory, and that would be counted as ours
    sections = sorted(folder.glob(f"{sized.stem} * of *.xlsx"))
    count = sum(int(run("-m", "tests.benchmarks.cells", str(one), str(captured))[1]) for one in sections or [sized])
    ours, bare = [], []
    for _ in range(times):
        ours.append(run("-m", "batch", "size", str(job), "-o", str(sized), "--stamp", "")[0])
        if sections:
            continue
        cost, loading = run("-m", "tests.benchmarks.bare", str(job), str(captured), str(folder / f"{banks} bare.xlsx"))
        wall_s, cpu_s = map(float, loading.split())  # apart: on a busy machine the clock runs several times as fast
        bare.append(cost._replace(wall_s=cost.wall_s - wall_s, cpu_s=cost.cpu_s - cpu_s))
    return _median(ours), _median(bare) if bare else None, count


def instead(folder: Path, banks: int) -> tuple[Cost | None, Cost]:
    """Cost of recalculating the results of `compare` in LibreOffice (None where it is not installed), and of a script over its job."""
    office = shutil.which("soffice")
    script, _ = run("-m", "tests.benchmarks.by_script", str(folder / f"{banks}.xlsx"), str(folder / f"{banks} script.xlsx"))
    if office is None:
        return None, script
    profile = folder / "profile"
    (profile / "user").mkdir(parents=True, exist_ok=True)
    (profile / "user" / "registrymodifications.xcu").write_text(ALWAYS)
    out = folder / "recalculated"
    command = (office, "--headless", "--norestore", f"-env:UserInstallation=file://{profile}", "--convert-to", "xlsx", "--outdir", str(out))
    recalculated, _ = run_any("timeout", str(PATIENCE_S), *command, str(folder / f"{banks} sized.xlsx"))
    return recalculated, script


def _median(costs: list[Cost]) -> Cost:
    return Cost(*(statistics.median(column) for column in zip(*costs, strict=True)))


def main() -> None:
    parser = argparse.ArgumentParser("python -m tests.benchmarks", description=__doc__.split("\n")[0])
    parser.add_argument("banks", nargs="*", type=int, default=list(TARGETS), help="sizes of job; 50, 1000 and 10000 unless given")
    parser.add_argument("--times", type=int, default=3, help="runs of each; the median counts")
    options = parser.parse_args()
    print(f"{'banks':>8}{'cells':>11}{'size s':>9}{'bare s':>9}{'ratio':>7}{'cpu ratio':>11}{'target':>8}{'size MB':>9}{'bare MB':>9}"
          f"{'office s':>10}{'script s':>10}")
    with tempfile.TemporaryDirectory() as folder:
        for banks in options.banks:
            ours, bare, count = compare(Path(folder), banks, options.times)
            target = f"{TARGETS[banks]:.1f}" if banks in TARGETS else f"{MEMORY_TARGET_MB} MB" if banks >= 100_000 else "-"
            if bare is None:
                print(f"{banks:>8,}{count:>11,}{ours.wall_s:>9.2f}{'-':>9}{'-':>7}{'-':>11}{target:>8}{ours.peak_mb:>9.0f}", flush=True)
                continue
            print(f"{banks:>8,}{count:>11,}{ours.wall_s:>9.2f}{bare.wall_s:>9.2f}{ours.wall_s / bare.wall_s:>7.2f}"
                  f"{ours.cpu_s / bare.cpu_s:>11.2f}{target:>8}{ours.peak_mb:>9.0f}{bare.peak_mb:>9.0f}", end="", flush=True)
            office, script = instead(Path(folder), banks)
            print(f"{office.wall_s if office else '-':>10.4}{script.wall_s:>10.2f}", flush=True)


if __name__ == "__main__":
    main()
