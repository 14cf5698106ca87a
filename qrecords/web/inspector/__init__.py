"""View-models of the inspector's and engineer's pages and of the certificate: strings ready to show.

From cases and findings to the dataclasses of `web.parts` and the pictures of `web.pictures`. Writes nothing;
imports point down, and never to `web.views`.
"""
