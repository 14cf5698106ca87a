"""Tracing: history, search and shared causes; the auditor's app. Reads everything, writes only its own notes.

Imports point down: signoff and below.
"""
