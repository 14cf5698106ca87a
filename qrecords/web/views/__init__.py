"""Views by role. Each translates a request, makes one call, translates the answer."""
