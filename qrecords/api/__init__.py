"""The API: the same actions as the pages, by resource. Imports point down: tracing and below.

Views translate in, make one call, translate out; errors are mapped to problem documents in one place.
"""
