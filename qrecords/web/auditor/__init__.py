"""The auditor's pages: from what `tracing` found to the parts of a page.

What belongs here: entries in words, stored findings as table rows, the life and the day as drawings, and the
panels beside them. Imports point down to `web.parts`, `web.pictures`, `web.showing` and `tracing`, never to a
view.
"""
