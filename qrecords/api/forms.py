"""The form of a mounting in answers: its line in a list, and everything in the whole case."""

from rest_framework import serializers

from qrecords.api.fields import Answer
from qrecords.api.paper_acts import HandedOver, MarksRead, PaperRead, SheetRead
from qrecords.api.point_acts import PointRead


class Open(Answer):
    """How many findings of each kind nobody has settled."""

    nonconforming = serializers.IntegerField(source="out")
    not_proven = serializers.IntegerField(source="close")
    missing = serializers.IntegerField()
    query = serializers.IntegerField(source="queries")


class Line(Answer):
    """A mounting in a list."""

    id = serializers.UUIDField()
    number = serializers.CharField()
    site = serializers.UUIDField()
    state = serializers.CharField()
    opened_at = serializers.DateTimeField()
    machine = serializers.CharField(source="journal.machine.name")
    machine_mark = serializers.CharField(source="journal.machine.mark")
    machine_id = serializers.UUIDField(source="journal.machine_id")
    journal = serializers.UUIDField(source="journal_id")
    shaft = serializers.CharField(source="journal.shaft")
    position = serializers.CharField(source="journal.position")
    bearing = serializers.UUIDField(source="bearing_id")
    designation = serializers.CharField(source="bearing.designation")
    serial = serializers.CharField(source="bearing.serial")
    lot = serializers.CharField(source="bearing.lot")
    date_code = serializers.CharField(source="bearing.date_code")
    rebuild = serializers.UUIDField(source="rebuild_id")
    work_order = serializers.CharField(source="rebuild.work_order")
    attempt_of = serializers.UUIDField(source="attempt_of_id", allow_null=True)
    procedure = serializers.CharField(source="procedure_digest")


class OpenLine(Line):
    open = Open(source="*")


class Said(Answer):
    """A standing answer: a value as typed with its base value, or a state with its reason."""

    typed = serializers.CharField(required=False, allow_blank=True)
    unit = serializers.CharField(required=False, allow_blank=True)
    value = serializers.JSONField(required=False)
    state = serializers.CharField(required=False)
    reason = serializers.CharField(required=False, allow_blank=True)
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    check = serializers.BooleanField()
    paper = PaperRead(required=False, allow_null=True)


UNCONFIRMED = (
    "unconfirmed: compare with your copy of the standard; each row of a table by its name, key and range"
)
OWN_COPY = "rows from this site's own copy of the standard, with who approved them"


class OwnRow(Answer):
    """A row of a table that the site took from its own copy of the standard."""

    row = serializers.CharField(help_text="standard and edition, table, key and range")
    where = serializers.CharField(help_text="its place, and in which copy")
    approval = serializers.CharField(help_text="the entry that put it in force")
    approved_by = serializers.CharField(help_text="hash of the version of the person, as the entry pins it")
    approved_on = serializers.CharField(help_text="day of the site's zone")


class Working(Answer):
    """A formula with the numbers put in."""

    value = serializers.CharField()
    unit = serializers.CharField(allow_blank=True)
    u = serializers.CharField(allow_blank=True)
    formula = serializers.CharField()
    put_in = serializers.ListField(child=serializers.ListField(child=serializers.CharField(allow_blank=True)))
    assumptions = serializers.ListField(child=serializers.CharField())
    source = serializers.CharField(allow_blank=True)  # type: ignore[assignment]  # the field names it so, DRF keeps them apart
    unconfirmed = serializers.ListField(child=serializers.CharField(), help_text=UNCONFIRMED)
    own_copy = OwnRow(many=True, help_text=OWN_COPY)
    validity = serializers.ListField(child=serializers.CharField())


class Offered(Answer):
    """One thing that may be done about a finding: by whom, and what has to be proven, stated or agreed first.
    `kind` *redo* is the fitter's within the procedure, *looked* closes a query; all else is a decision."""

    kind = serializers.CharField()
    by = serializers.ListField(child=serializers.CharField())
    proven = serializers.DictField(help_text="what has to be proven first and is, with its facts")
    lacking = serializers.ListField(child=serializers.CharField(), help_text="what has to be proven yet")
    states = serializers.ListField(child=serializers.CharField(), help_text="what the decider states")
    customer = serializers.BooleanField(help_text="the customer agrees by letter")


class FoundByRule(Answer):
    """What one rule says of one characteristic. `value`, `u`, limits and `margin` are integers of `unit`."""

    rule = serializers.CharField()
    version = serializers.IntegerField()
    characteristic = serializers.CharField()
    verdict = serializers.CharField()
    settled = serializers.BooleanField()
    message = serializers.CharField()
    facts = serializers.DictField()
    unit = serializers.CharField(allow_blank=True)
    value = serializers.IntegerField(allow_null=True)
    u = serializers.IntegerField(allow_null=True)
    lower = serializers.IntegerField(allow_null=True)
    upper = serializers.IntegerField(allow_null=True)
    margin = serializers.IntegerField(allow_null=True)
    source = serializers.CharField(allow_blank=True)  # type: ignore[assignment]  # the field names it so, DRF keeps them apart
    confirmed = serializers.BooleanField()
    unconfirmed = serializers.ListField(child=serializers.CharField(), help_text=UNCONFIRMED)
    own_copy = OwnRow(many=True, help_text=OWN_COPY)
    inputs = serializers.ListField(child=serializers.UUIDField())
    hold = serializers.CharField(allow_blank=True)
    may = serializers.ListField(child=serializers.CharField())
    row = serializers.CharField(allow_blank=True, help_text="row of the table of findings and decisions")
    ways = Offered(many=True)
    working = Working(allow_null=True)
    digest = serializers.CharField()


class HeatingPlan(Answer):
    """What the fitter reads, rounded; or, as `impossible`, why there can be none."""

    set_c = serializers.IntegerField(required=False)
    must_reach_c = serializers.IntegerField(required=False)
    never_above_c = serializers.IntegerField(required=False)
    ceiling = serializers.CharField(required=False)
    ceiling_source = serializers.CharField(required=False)
    carry_s = serializers.IntegerField(required=False, allow_null=True)
    pressing_s = serializers.IntegerField(required=False, allow_null=True)
    working = serializers.DictField(child=Working(), required=False)
    impossible = serializers.CharField(required=False)


class LimitsOf(Answer):
    lower_nm = serializers.IntegerField()
    upper_nm = serializers.IntegerField()
    source = serializers.CharField()  # type: ignore[assignment]  # the field names it so, DRF keeps them apart
    unconfirmed = serializers.ListField(child=serializers.CharField(), help_text=UNCONFIRMED)
    own_copy = OwnRow(many=True, help_text=OWN_COPY)


class Asked(Answer):
    """What the drawing asks: its document as registered, and the limits that follow."""

    document = serializers.DictField()
    journal = LimitsOf()
    bore = LimitsOf()


class Released(Answer):
    hold = serializers.CharField()
    entry = serializers.UUIDField()
    leaf = serializers.CharField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    means = serializers.CharField()
    voided = serializers.BooleanField()
    answer_code = serializers.CharField(allow_blank=True)


class Tapped(Answer):
    what = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    relies_on = serializers.CharField(allow_blank=True)
    paper = PaperRead(allow_null=True)


class Decided(Answer):
    kind = serializers.CharField()
    digests = serializers.ListField(child=serializers.CharField())
    reason = serializers.CharField()
    conditions = serializers.CharField(allow_blank=True)
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    closes = serializers.CharField(allow_blank=True)
    expires = serializers.DateField(allow_null=True)
    expired = serializers.BooleanField(help_text="its last day is over")
    letter = serializers.CharField(allow_blank=True)
    states = serializers.ListField(child=serializers.CharField())
    rows = serializers.ListField(child=serializers.CharField())


class Handed(Answer):
    """A paper that decisions rest on."""

    kind = serializers.CharField()
    sha256 = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    received = serializers.BooleanField()
    after_signature = serializers.BooleanField()


class Pictured(Answer):
    shot = serializers.CharField()
    sha256 = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    camera = serializers.BooleanField()
    received = serializers.BooleanField()
    after_signature = serializers.BooleanField()


class LogCurve(Answer):
    """One ring's column of a log, judged: peak and time above the ceiling (from, to) in m°C and ms; what
    befell it, with seconds from the first sample."""

    ring = serializers.CharField()
    column = serializers.IntegerField()
    unit = serializers.CharField()
    verdict = serializers.CharField()
    unproven = serializers.ListField(child=serializers.CharField())
    peak_mdegc = serializers.IntegerField()
    ceiling_mdegc = serializers.IntegerField()
    above_ms = serializers.ListField(child=serializers.IntegerField())
    rate_k_per_s = serializers.CharField(allow_blank=True)
    events = serializers.ListField(child=serializers.DictField())


class LoggedHeat(Answer):
    """A heating log handed in. `said` is what its text does not say; `curves` are empty while it waits, or
    cannot be read. Its samples are read at its own address."""

    sha256 = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()
    received = serializers.BooleanField()
    after_signature = serializers.BooleanField()
    replaced = serializers.BooleanField()
    said = serializers.DictField()
    started = serializers.CharField(allow_blank=True)
    curves = LogCurve(many=True)


class Signed(Answer):
    meaning = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()


class Back(Answer):
    about = serializers.CharField()
    reason = serializers.CharField()
    entry = serializers.UUIDField()
    author = serializers.UUIDField()
    at = serializers.DateTimeField()


class JudgedBy(Answer):
    """The tables of the standards that judge a mounting: those pinned at its opening; `stands_for` is the
    digest that was pinned, where this program does not know that set any more and judges by its own."""

    digest = serializers.CharField()
    stands_for = serializers.CharField(allow_blank=True)


class WholeCase(Line):
    """Everything said of one mounting. `shown` goes back with a release or a signature: it
    says how much of the record was seen. `sealed` names what is kept back from a caller who has to read it
    himself first: *marking*, *readings* and what follows from them."""

    requirement = Asked()
    answers = serializers.DictField(child=serializers.DictField(child=Said()))
    checks = serializers.DictField(child=serializers.DictField(child=Said()))
    sealed = serializers.ListField(child=serializers.CharField())
    findings = FoundByRule(many=True)
    heating_plan = HeatingPlan(allow_null=True)
    open = serializers.ListField(child=serializers.CharField())
    readings_code = serializers.CharField(allow_blank=True)
    standing_releases = serializers.DictField(child=serializers.CharField(allow_blank=True))
    releases = Released(many=True)
    taps = Tapped(many=True)
    decisions = Decided(many=True)
    returns = Back(many=True)
    photos = Pictured(many=True)
    logs = LoggedHeat(many=True)
    sheets = SheetRead(many=True)
    hand_overs = HandedOver(many=True)
    marks = MarksRead(many=True)
    points = PointRead(many=True)
    papers = Handed(many=True)
    signatures = Signed(many=True)
    shown = serializers.CharField()
    tables = JudgedBy()
    unread = serializers.ListField(child=serializers.UUIDField())
    people = serializers.DictField(child=serializers.CharField())
    certificate = serializers.URLField(allow_null=True)
    """The page to print, once it is signed off."""
