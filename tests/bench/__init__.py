"""Measured ratios to named baselines: `make bench` runs every module here that has `measure`.

A ratio is taken in one run, alternating, because the machine's speed moves more than what is measured.
"""
