"""What pages and API say alike: figures as they are lettered, a reader's units, sentences of the planner.

What belongs here: words and figures for facts that come from below, where more than one edge says them. It
reads no request and no record. Imports point down to `steps` and `engineering`; `web` and `api` read from
here.
"""
