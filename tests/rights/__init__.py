"""The table of rights, walked: `scenes` sets up what an act needs, `web_doors` and `api_doors` say how each
is done for real, `test_every_cell` tries every role at every door, `test_independence` who may judge what.
"""
