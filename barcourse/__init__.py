"""Barcourse: the site, and the rooms everyone shares."""
