"""The fitter's pages: from a case to the parts of a page, and from a form to what was said.

What belongs here: view-models of the fitter's screens (`screens` names them and their parts), reading a
posted form (`sent`), the questions that a page asks back (`questions`). Views call these and one action;
imports point down to `web.parts`, `web.pictures`, `mountings`, `workshop` and `steps`, never to a view.
"""
