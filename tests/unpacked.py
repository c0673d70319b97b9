"""The fonts of our papers are packed, and unpacking them takes a process some seven seconds: what
came of it once is kept for all processes and the next run. It is looked up by the packed font and
the program that unpacks it. A process that a test starts itself unpacks them anew, and
`tests/papers/test_pdf.py` holds its paper against ours byte by byte."""

from __future__ import annotations

import hashlib
import os
from io import BytesIO
from pathlib import Path
from typing import BinaryIO

import fontTools
import pytest
from fontTools.ttLib import woff2

FOLDER = Path(__file__).parent.parent / ".pytest_cache" / "fonts"

_unpack = woff2.decompress


def unpack_once(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(woff2, "decompress", _decompress)


def _decompress(packed: BinaryIO, into: BinaryIO) -> None:
    font = packed.read()
    print_ = hashlib.sha256(f"{fontTools.version} ".encode() + font)
    kept = FOLDER / f"{print_.hexdigest()[:32]}.ttf"
    if not kept.exists():
        _keep(font, kept)
    into.write(kept.read_bytes())


def _keep(font: bytes, kept: Path) -> None:
    """Whole or not at all, whoever else does the same."""
    out = BytesIO()
    _unpack(BytesIO(font), out)
    kept.parent.mkdir(parents=True, exist_ok=True)
    half = kept.with_suffix(f".{os.getpid()}")
    half.write_bytes(out.getvalue())
    half.replace(kept)
