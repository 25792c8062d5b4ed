"""What is printed, and the progress bar: the only place that writes to the screen."""

from __future__ import annotations

import os
import sys
import time
from typing import TYPE_CHECKING, TextIO

if TYPE_CHECKING:
    from rich.progress import Progress as Bar
    from rich.progress import TaskID

LONG_WORK_S = 0.7  # work that takes longer than this gets a progress bar on a screen


class Voice:
    """Standard output and error. A reader that went away (`| head`), or a full disk behind them, neither stops the work nor changes its
    exit code.

    quiet  answers are kept back; what went wrong is said all the same
    """

    def __init__(self) -> None:
        self.quiet = False
        for name in ("stdout", "stderr"):  # a shell that closed them (>&-) leaves none, and the work is done all the same
            if getattr(sys, name) is None:
                setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_WRONLY), "w", encoding="utf-8"))
        for stream in (sys.stdout, sys.stderr):
            if hasattr(stream, "reconfigure"):  # a character the terminal cannot show is escaped, not a crash
                stream.reconfigure(errors="backslashreplace")

    def out(self, *lines: str) -> None:
        if not self.quiet:
            self.answer(*lines)

    def answer(self, *lines: str) -> None:
        """What was asked for in so many words, said even when quiet."""
        for line in lines:
            self._guarded(sys.stdout, line)

    def err(self, *lines: str) -> None:
        for line in lines:
            self._guarded(sys.stderr, f"heaterbatch: {line}")

    @staticmethod
    def _guarded(stream: TextIO, line: str) -> None:
        try:
            print(line, file=stream, flush=True)
        except OSError:  # nobody reads, or nothing more fits
            # What is left in the buffer would raise again at exit, so the stream is pointed at nothing.
            nowhere = os.open(os.devnull, os.O_WRONLY)
            os.dup2(nowhere, stream.fileno())
            os.close(nowhere)


class Progress:
    """The verbs' progress callback: silent until the work has proved long, then a bar on the screen."""

    def __init__(self, name: str) -> None:
        self.name, self.began = name, time.monotonic()
        self.bar: Bar | None = None
        self.tasks: dict[str, TaskID] = {}

    def __call__(self, stage: str, done: int, of: int) -> None:
        if self.bar is None:
            if time.monotonic() - self.began < LONG_WORK_S:
                return
            from rich.console import Console  # for long work on a screen only: short work should not wait for this import
            from rich.progress import Progress as Bar

            self.bar = Bar(console=Console(stderr=True), transient=True)
            self.bar.start()
        if stage not in self.tasks:
            from rich.markup import escape

            self.tasks[stage] = self.bar.add_task(escape(f"{self.name}: {stage}"), total=of or None)
        self.bar.update(self.tasks[stage], completed=done, total=of or None)

    def close(self) -> None:
        if self.bar is not None:
            self.bar.stop()
            self.bar = None
