"""Sign-off: hold points, decisions, returns, signatures, certificates. The inspector's app.

Acts of authority: refused whenever right, independence or a precondition is missing. Imports point down:
mountings and below.
"""
