"""The printed pack: everything about one build in one HTML file and one PDF, made from the same sections."""
