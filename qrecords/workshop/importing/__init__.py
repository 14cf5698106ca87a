"""Registers filled from a sheet (CSV): what each row would do is told first, then exactly that file comes in.

Rows go through the same actions a person uses, one transaction a row; what is here already is never changed.
`docs/import.md` names the columns. A kind of sheet is a module: orders, bearings, gauges, people.
"""
