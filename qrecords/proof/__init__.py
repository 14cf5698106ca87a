"""What anyone can check without this software: canonical bytes, the Merkle tree, identifiers.

Pure: no framework, no input or output, no clock; imports nothing else of ours.
"""
