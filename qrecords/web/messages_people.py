"""Sentences for what is found of the people who did it: competence, eyesight, reduced independence."""

from collections.abc import Mapping

from django.utils.translation import gettext_noop as _

PEOPLE_FINDINGS: Mapping[str, str] = {
    "competence.conforming": _("Competence held|for this task, size and kind of bearing."),
    "competence.not-proven": _(
        "Competence|is not the same on {first:day} and on {last:day}: on which of these days it was done is "
        "not proven."
    ),
    "competence.kind-unknown": _(
        "Competence for some kinds of bearing only,|and neither the designation nor the table of clearances "
        "says which kind this is."
    ),
    "competence.nonconforming": _("Competence {state}|for this task, size and kind of bearing."),
    "competence.not-done": _(
        "Competence lapsed:|not done for twelve months, the last time on {since:day}. Somebody assesses anew."
    ),
    "eyesight.conforming": _("Eyesight tested|to the employer's requirement, valid to {until:day}."),
    "eyesight.not-proven": _(
        "Eyesight test|ran out between the first and the last day on which this can have been read."
    ),
    "eyesight.nonconforming": _(
        "Eyesight test run out|on {until:day}: somebody with a valid test reads it again."
    ),
}
