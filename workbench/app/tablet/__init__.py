"""The app in a browser, for a tablet on the stand: who may come in, the page, the server."""

GRACE_SECONDS = 5.0
"""Left to an app to keep what is not on disk yet; every tick is, before the next step shows."""
