"""The pages: views by role, forms, drawings, the offline capture app, notices.

What belongs here: turning what the parts below know into pages, and what a person typed into one call of one
action. `pictures/` turns numbers into coordinates (pure), `parts.py` names what the included templates in
`templates/parts/` want; `wording` letters numbers. Imports point down to every app but `api` and `demo`;
nothing below imports from here.
"""
