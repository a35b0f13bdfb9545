"""Attacks walk about in the app as its own tests do."""

from tests.app.conftest import no_time_lost

__all__ = ["no_time_lost"]
