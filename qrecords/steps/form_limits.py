"""The limits of the form of a journal: the drawing's, else the textbook's."""

from qrecords.engineering.limits import limits_of_size
from qrecords.steps.case import Case


def form_limit(case: Case, form: str) -> tuple[int, str, tuple[str, ...]]:
    """The radial tolerance of one form, *roundness* or *taper*, in nm: the drawing's, else half of IT5
    (textbook practice, from memory)."""
    own = case.requirement.form_limit_nm(form)
    if own is not None:
        return own, f"drawing {case.requirement.drawing}", ()
    it5 = limits_of_size(case.requirement.nominal_mm, "h5", case.tables)
    return (
        (it5.upper_nm - it5.lower_nm) // 2,
        f"half of IT5, from memory; {it5.source}; ISO 1101",
        it5.unconfirmed,
    )
