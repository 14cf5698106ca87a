"""The numbers of the trade: units, tables, limits of size, bearings, fits, heat, clearance, measurement, gap,
field, grease, statistics, heating logs, and the rules of thumb beside them.

Pure: no Django, no clock, no input or output beyond reading its own tables in `data/`. Everything here is a
function of its arguments and a frozen dataclass; an answer that checks nothing is a named tuple, which costs
a tenth: all of it has to load in 50 ms. Imports point to nothing else of ours; everybody above may
import from here. Models run in float64 and answer with a `result.Result`, which explains itself; verdicts are
taken on integers of one base unit (`measurement.decide`).
"""
