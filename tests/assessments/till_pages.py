"""An export sent through the screen."""

import io
import uuid

from tests.assessments.pages import fields


def send_file(browser, path, data, name="till.csv"):
    file = io.BytesIO(data if isinstance(data, bytes) else data.encode())
    file.name = name
    return browser.post(path, {"form_key": str(uuid.uuid4()), "file": file}, follow=True)


def take_as_shown(browser, path, data, **more):
    """What is shown first, then the page after it was taken in."""
    shown = send_file(browser, path, data)
    sent = {**fields(shown, path), "take": "1", **more}
    return shown, browser.post(path, {**sent, "form_key": str(uuid.uuid4())}, follow=True)
