"""The app in a browser, for a tablet on the stand: who may come in, the page, the server."""
