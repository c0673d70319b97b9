"""A QR code as one flat path, for paper."""

from __future__ import annotations

from dataclasses import dataclass

import segno

QUIET_ZONE = 4
"""Empty modules around the code (ISO/IEC 18004)."""


@dataclass(frozen=True)
class Code:
    """`size` modules across, quiet zone and all; `path` fills the dark ones, one unit each."""

    size: int
    path: str


def code_of(address: str) -> Code:
    """The QR code of an address, restoring up to 15 % of it where paper is stained or torn."""
    rows = segno.make_qr(address, error="m", boost_error=False).matrix
    path = "".join(
        f"M{QUIET_ZONE + start} {QUIET_ZONE + y}h{length}v1h-{length}z"
        for y, row in enumerate(rows)
        for start, length in _runs(row)
    )
    return Code(len(rows) + 2 * QUIET_ZONE, path)


def _runs(row: bytearray) -> list[tuple[int, int]]:
    """(start, length) of each run of dark modules."""
    runs: list[tuple[int, int]] = []
    for x, dark in enumerate(row):
        if dark and runs and sum(runs[-1]) == x:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        elif dark:
            runs.append((x, 1))
    return runs
