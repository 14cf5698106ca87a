"""Every number field at every door, spoilt in every way.

`spoilt` says how, `web_fields` and `api_fields` have a row for each; a field that is found by walking and has
no row fails.
"""
