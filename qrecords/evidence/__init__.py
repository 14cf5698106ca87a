"""Files: taken in by content, kept under their SHA-256, shown only as derivatives.

Here belong intake, the checks a file must pass, where files lie, and what is made from them. Of the record
this package knows only a digest, a size, a sender and a claimed mounting, so files may arrive in any order.
It imports `people`, `ledger` and `outbox` if at all; mountings, sign-off and pages import it.
"""
