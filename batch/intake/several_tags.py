"""Tags that stand for several tanks: "T-1 thru T-4", "T-1/2/3", "T-1, T-2 & T-5"."""

from __future__ import annotations

import re

RUN = re.compile(
    r"(?P<a>[A-Za-z#. -]*?)(?P<x>\d+)\s*(?:thru|through|to|bis|until|\.\.+|…|–|—|\u2192)\s*(?P<b>[A-Za-z#. -]*?)(?P<y>\d+)\Z", re.IGNORECASE
)
DASHED = re.compile(r"(?P<a>[A-Za-z]+[-.]?)(?P<x>\d+)\s*-\s*(?P<b>[A-Za-z]+[-.]?)(?P<y>\d+)\Z")
PARTS = re.compile(r"\s*(?:,|;|&|\+|/|\band\b|\bund\b|\by\b|\bet\b|\be\b)\s*", re.IGNORECASE)
MOST = 60


def several(text: str) -> tuple[str, ...]:
    """The tags that a text stands for, two or more; () where it is one tag, or what it means is not sure."""
    text = " ".join(text.split())
    for pattern in (RUN, DASHED):
        if match := pattern.match(text):
            return _run(match)
    parts = [part for part in PARTS.split(text) if part]
    if len(parts) < 2 or not re.search(r"\d", parts[0]):
        return ()
    head = re.match(r"(.*?)(\d+[A-Za-z]?)\Z", parts[0])
    if head is None:
        return ()
    tags: list[str] = [parts[0]]
    for part in parts[1:]:
        if inner := RUN.match(part):
            tags += _run(inner)
        elif re.fullmatch(r"\d+[A-Za-z]?", part):
            tags.append(head[1] + part)
        elif re.fullmatch(r"[A-Za-z]", part) and re.search(r"[A-Za-z]\Z", parts[0]):
            tags.append(parts[0][:-1] + part)
        elif re.search(r"\d\w?\Z", part) and re.match(r"[A-Za-z]", part) and len(part) <= 12:
            tags.append(part)
        else:
            return ()
    return tuple(tags) if len(set(tags)) == len(tags) else ()


def _run(match: re.Match[str]) -> tuple[str, ...]:
    first, last = int(match["x"]), int(match["y"])
    prefix, other = match["a"], match["b"]
    if other.strip() and other.strip().casefold() != prefix.strip().casefold():
        return ()
    if not first < last <= first + MOST:
        return ()
    width = len(match["x"]) if match["x"].startswith("0") else 0
    return tuple(f"{prefix}{number:0{width}d}" for number in range(first, last + 1))
