"""The registers' pages: which columns a list has, what a form asks and how it is read.

What belongs here: columns by register, questions of forms, reading what was typed into the document an action
takes. Imports point down to `web.listing`, `workshop`, `people` and `engineering`, never to a view.
"""
