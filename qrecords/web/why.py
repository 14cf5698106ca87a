"""Why each rule exists, in one sentence: what goes wrong in service when it is broken."""

from collections.abc import Mapping

from django.utils.translation import gettext
from django.utils.translation import gettext_noop as _

from qrecords.web import chosen_words

WHY: Mapping[str, str] = {
    "ring-marking": _("A bearing one character off runs, and fails early."),
    "own-reading": _("A second signature without a second look has let a wrong bearing through."),
    "as-ordered": _("Another lot may be another delivery, and not the bearing that was checked in."),
    "package-intact": _("Rust and dirt get in where the wrapper was open."),
    "edge-burrs": _("A burr scores the bore and cocks the ring."),
    "shoulder-burrs": _("A burr holds the ring off the shoulder."),
    "fillet-clears": _("A ring that rides on the fillet sits tilted, with a gap."),
    "wiped-clean": _("A filing under the ring makes a bulge in the raceway or a tilt."),
    "gear-ready": _("Whoever looks for a tool with a hot ring in hand loses the heat."),
    "zone-kept": _("The heater's field can disturb worn and implanted devices."),
    "gauge-in-date": _("A gauge out of date may have drifted, unseen, for months."),
    "gauge-fine-enough": _("A coarse gauge cannot tell inside from outside."),
    "master-check": _("A wrong zero puts a whole shift of readings wrong by the same amount."),
    "one-temperature": _("One kelvin apart is more than a micrometre on 100 mm."),
    "journal-size": _("A loose ring creeps on the shaft; a tight one loses its clearance or cracks."),
    "journal-readings": _("The place that was not measured is the one nobody can prove later."),
    "journal-roundness": _("The ring takes the shape of the seat, lobes and all."),
    "journal-taper": _("A tapered seat holds at one end and creeps at the other."),
    "bore-in-class": _("A bore outside its class is not the bearing it says it is, or was misread."),
    "interference": _("The fit the drawing asks for is what keeps the ring from turning on its seat."),
    "clearance-in-group": _("The wrong clearance group runs hot or rattles."),
    "clearance-forecast": _("Without clearance the bearing runs hot and tires all round the inner ring."),
    "clearance-found": _("What clearance is left decides how it runs."),
    "clearance-as-forecast": _("It is the only check of the fit that is left once the ring is on."),
    "released-before-heat": _("Once the ring is on, journal and bore can never be measured again."),
    "heater-named": _("A heater found wrong later puts every ring it heated in doubt."),
    "set-up": _("How the ring hung on the heater decides how evenly it warmed."),
    "probe-on-inner-ring": _("A probe elsewhere lets the inner ring overheat unseen."),
    "peak-temperature": _("Too hot, the steel softens and grows, grease and seals are spoilt."),
    "log-readable": _("The heater's own log is the one clock and thermometer that nobody types from."),
    "log-ceiling": _("Between two readings the ring can be too hot; a curve shows for how long."),
    "log-as-typed": _("Two numbers of one heat that differ: one of them is of another ring, place or day."),
    "log-against-taps": _("Off the heater a ring only cools: one that rises is another heating."),
    "log-energy": _("A ring gets hot no faster than its heater can: else the log is of a smaller one."),
    "ring-difference": _("An inner ring much hotter than the outer clamps the rolling elements."),
    "slid-on": _("It did go on: if it could not have, journal, bore or temperature is wrong."),
    "demagnetised": _("A magnetised bearing collects swarf."),
    "residual-field": _("What clings to a magnetic ring dents the raceway."),
    "seat-film": _("Trapped oil holds the ring off the shoulder; a dry seat frets."),
    "went-home": _("A ring that sticks half-way is forced, and dented."),
    "not-dropped": _("Dents from a fall are not seen and fail later."),
    "not-hammered": _("A blow goes through the rolling elements into the raceway."),
    "held": _("A ring that is not held retreats from the shoulder while it shrinks."),
    "pressed-home": _("Let go before it grips, the ring draws back from the shoulder."),
    "cold-when-checked": _("A warm ring still shrinks: the gap opens after the check."),
    "shoulder-gap": _("A gap is a tilted track, or end play lost when the ring creeps home in service."),
    "gap-plane": _("A flat ring has its gaps on a plane: what does not fit is dirt, a burr or a slip."),
    "turns-freely": _("A tight spot by hand is a dent, dirt or a pinch."),
    "order-in-time": _("What lies under the ring can be measured before it goes on, and never after."),
    "heat-time": _("A ring gets hot no faster than its heater can: else one of the numbers is of another."),
    "runs-quietly": _("Dirt and dents are heard before they are felt."),
    "aligns-itself": _("A self-aligning ring that does not swing is pinched, or sits where it should not."),
    "covered": _("Dust settles in an open bearing at once."),
    "cold-released": _("Under the cover nobody can feel the gap any more."),
    "photos-present": _("The photo is the only look that anybody can take again later."),
    "photo-in-time": _("What lies under the ring can be photographed before it goes on, and never after."),
    "hold-released": _("A hold point is where somebody else has to see before it is too late."),
    "witness-told": _("Who has a right to see the work can use it only if he knows when."),
    "documents-reviewed": _("A second pair of eyes on the papers finds what the first has written."),
    "paper-sheet-photo": _("What was typed from paper can be compared with it only while both are there."),
    "photo-used-before": _("A photo proves one mounting, not two."),
    "competence": _("Who was assessed for this task and size does it as it was taught."),
    "eyesight": _("Marks, blades and displays are read by eye."),
    "heatings": _("Each heating takes a little from steel, grease and cage."),
    "reading-speed": _("A reading takes its time; what was typed faster was perhaps not read."),
    **chosen_words.WHY,
    "same-digits": _("Two seats seldom measure the same to the last digit."),
}


def why(rule: str) -> str:
    """The sentence for a rule; empty for one that has none yet (a test holds that each has)."""
    return gettext(WHY[rule]) if rule in WHY else ""
