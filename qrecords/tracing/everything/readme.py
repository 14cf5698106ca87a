"""What lies in an export, in plain words, for who has nothing but the export."""

README = """What this is

All that this installation keeps, taken out in open formats. Nothing of qrecords is needed to read it.

tables/       one CSV file for each table (comma, double quotes, UTF-8, first line names the columns).
              A cell that a spreadsheet would take for a formula has an apostrophe before it. Moments have
              their zone. Documents are JSON in one cell. Sizes are whole numbers in base units: nm, m°C, ms,
              nT, mN. People are pseudonyms; names, passwords and secrets are not here.
              readings, findings and the states of mountings are indexes made from the entries.
entries/      every entry in the order of the log, one JSON object a line: index (its place), leaf (hash in
              hexadecimal), payload (its text exactly as it is hashed), signature (Ed25519, hexadecimal, over
              the leaf hash), holds (whether the hash was right when this was taken out). The leaf hash is
              SHA-256 over one zero byte and the bytes of the payload (RFC 9162). payload is JSON itself.
              Of an export of one site the places of other sites' entries are left out.
originals/    every photo and heating log as it was sent, named by its SHA-256.
not-here.csv  files that the record knows and that were not in their place.
counts.csv    how many rows or lines each file has.
SHA256SUMS    the SHA-256 of every file: check with  sha256sum -c SHA256SUMS

The tables were written before the entries, so every entry a row rests on is among them, though people went on
recording meanwhile. An id is the same in tables and entries: the row of a register has the id of its entry.
"""
