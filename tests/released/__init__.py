"""Houses as earlier releases left them, one file a release, and what becomes of them here.

`2026-11-25.sqlite3.xz` holds the demo house and the two houses of `whole_house.py`, so that every
table of that release has rows. A new file is made by `scripts/keep_release.py` on the release
itself; an old one is never made anew.
"""
