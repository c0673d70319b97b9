"""Addresses of the pages on which a trainer marks a hire's hands."""

from tests.assessments.pages import address


def at(hire, page, **parts):
    return address(hire, page, hire=hire.code, **parts)
