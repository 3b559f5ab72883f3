"""The same answers over HTTP: an API for other programs and the page, on this machine unless told otherwise."""
