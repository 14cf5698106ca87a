"""What is refused is said in words of the workshop: the field by the name on its page, what was typed, what
is allowed; no key and no identifier."""

import inspect
import re
from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from qrecords.ledger.errors import DifferentContentError, NotRecordedError, PayloadTooLongError
from qrecords.ledger.identifiers import new_id
from qrecords.mountings import errors as mountings
from qrecords.mountings.models import Mounting
from qrecords.people import errors as people
from qrecords.people.permissions import Action, Role
from qrecords.proof import errors as proof
from qrecords.signoff import errors as signoff
from qrecords.steps import errors as steps
from qrecords.steps import transitions
from qrecords.steps.transitions import Refusal
from qrecords.web.door import ACTION_ERRORS
from qrecords.web.fitter.refusals import WORDS
from qrecords.web.refused import refused_words
from qrecords.workshop import errors as workshop
from qrecords.workshop.importing.text import FileChangedError, SheetUnreadableError
from qrecords.workshop.models import JournalRequirement
from tests.cast import MORNING, Job, make_workshop, start
from tests.web.desk import beside, sit
from tests.web.fitter_hand import ORDER, SIZES, signed_in
from tests.web.test_fitter_before_heat import release_here
from tests.web.test_no_inner_words import inner_words

ID = new_id()
BLADE = steps.FieldError("gap.90", "thick", "mm", "0…1 mm")
ERRORS: tuple[Exception, ...] = (
    mountings.FieldsError({"gap.90": BLADE, "journal.A.0": BLADE}),
    mountings.NeedsReasonError(["date_code", "master_before"], str(ID)),
    mountings.NothingSaidError("shoulder_gap"),
    mountings.ChangedMeanwhileError([str(ID)]),
    mountings.RefusedError("sign-off", Refusal("open-findings", {"findings": ("journal size", "seat-film")})),
    mountings.SealedError(ID),
    mountings.UnknownTapError("heater_on", ("heater on", "lifted off")),
    mountings.AlreadyTappedError("heater on", str(ID), MORNING, str(ID)),
    mountings.TooLateToUndoError(10),
    mountings.WhyWithdrawnError(),
    mountings.BarredBearingError("26-0001"),
    mountings.BearingElsewhereError("26-0001"),
    mountings.LaboratoryError(),
    mountings.BearingStateError("scrapped", "mounted", "26-0001"),
    signoff.UnknownFindingError("0f" * 32),
    signoff.NotAmongDecisionsError("accept", "turns-freely", ("measure again", "rework")),
    signoff.ReasonNeededError("give_back"),
    signoff.NotCompetentError("stand in", "lapsed", MORNING.date()),
    signoff.ExpiryError("rework", MORNING.date(), MORNING.date()),
    signoff.WrongCodeError("ABC"),
    signoff.LowestAboveHighestError(60_018_000, 60_016_000),
    people.NotAllowedError(Action.RECORD, ID),
    people.ProveAgainError(Action.SIGN),
    people.NotForOneselfError(Action.PEOPLE),
    people.RoleHeldError(Role.FITTER),
    people.RolesApartError(Role.FITTER, Role.ADMINISTRATOR),
    people.LastAdministratorError(),
    people.HoldsElsewhereError(ID),
    people.FirstPasswordError(),
    people.UnknownPersonError("hollin"),
    people.NameTakenError("hollin"),
    people.PeopleThereError(),
    people.PersonFieldError("sign_in", "", "1 to 60 characters"),
    workshop.RegisterFieldError("work_order", "WO\t1", "1 to 40 characters in one line"),
    workshop.UnknownObjectError("journal requirement", ID),
    SheetUnreadableError("unknown column", "designation, lot", 1, "shoe"),
    FileChangedError("0f" * 32, "1f" * 32),
    steps.FieldError("date_code", "", "", "1 to 20 characters in one line"),
    steps.SlipError("peak_outer", "951", "°C", "20…150 °C", "95.1"),
    steps.OddError("journal.A.0", "99", "um from 60 mm", "10…20 um from 60 mm", ""),
    steps.LineError("readings", 3, "1,x", "um", "-2000…2000 um", "not understood"),
    steps.LogUnreadableError("not-text", 3, 2, "%PDF", "lines of text"),
    workshop.RowSettledError(ID, "in force"),
    workshop.ProcedureSettledError(ID, "replaced by a newer draft"),
    workshop.ProcedureThereError(),
    signoff.LeftToOthersError("accept", ["engineer"]),
    workshop.LastProcedureError(),
    workshop.TwoPeopleError("approved"),
    workshop.TwoPeopleError("drafted"),
    steps.UnknownFieldError("shoulder_gap", "gap_90", ("gap", "feeler")),
    steps.DocumentError("requirement", "size_source", "'' is not one of table, drawing, measured"),
    DifferentContentError(ID),
    NotRecordedError(ID),
    PayloadTooLongError(ID, 70_000, 65_535),
    proof.TextRefusedError("half of a surrogate pair", "body.said.date_code"),
    proof.IdentifierError(ID),
)  # fmt: skip
IDENTIFIER = r"[0-9a-f]{8}-[0-9a-f]{4}|\b[0-9a-f]{12}"


def kinds(error: type[Exception]) -> Iterator[type[Exception]]:
    """This kind of error and every kind of it."""
    yield error
    for kind in error.__subclasses__():
        yield from kinds(kind)


def test_every_refusal_a_page_can_show_has_a_row_here() -> None:
    known = {type(error) for error in ERRORS}
    bare = {mountings.MountingError, signoff.SignoffError, people.PeopleError, workshop.WorkshopError}
    shown = {kind for error in ACTION_ERRORS for kind in kinds(error)} - bare - {steps.StepError}
    # Unknown here is a page that does not exist; one kind of text that has no canonical form stands for all.
    assert {kind.__name__ for kind in shown - known if not issubclass(kind, proof.CanonicalError)} == {
        "UnknownMountingError"
    }


@pytest.mark.parametrize("error", ERRORS, ids=lambda error: type(error).__name__)
def test_a_refusal_is_said_without_keys_and_identifiers(error: Exception) -> None:
    words = refused_words(error)
    assert inner_words(f"<p>{words}</p>") == []
    assert re.findall(IDENTIFIER, words) == []
    assert len(words.split()) > 3


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (BLADE, "gap at 90°: thick mm is not understood. It wants 0…1 mm."),
        (
            workshop.RegisterFieldError("date_code", "FR\t26", "1 to 20 characters in one line"),
            "date code: “FR□26” is not possible. Allowed: 1 to 20 characters in one line",
        ),
        (
            steps.DocumentError("requirement", "raceway_mm", "3001 mm is not possible; allowed: 1…3000 mm"),
            "drawing, inner raceway: 3001 mm is not possible; allowed: 1…3000 mm",
        ),
    ],
)
def test_field_value_unit_and_range_stay_in_it(error: Exception, words: str) -> None:
    assert refused_words(error) == words


def test_every_refused_act_of_authority_has_its_sentence() -> None:
    codes = set(re.findall(r'Refusal\(\s*"([a-z-]+)"', inspect.getsource(transitions)))
    for code in codes:
        facts: dict[str, Any] = {"findings": ("journal size",), "differs": ("code",)}
        assert refused_words(mountings.RefusedError("release", Refusal(code, facts)))
    assert len(codes) > len(WORDS) / 2


@pytest.fixture
def job() -> Job:
    return start(make_workshop())


@pytest.mark.django_db
def test_a_second_mounting_by_a_drawing_that_cannot_be_read_says_of_which_field(job: Job) -> None:
    document = JournalRequirement.objects.get(journal=job.journal).document
    JournalRequirement.objects.update(document=document | {"seat_width_mm": "wide"})
    client = signed_in(job.shop, "fitter")
    answer = client.post(reverse("start-again", args=[job.mounting.id]), {"bearing": "other"})
    page = answer.content.decode()
    assert answer.status_code == 422 and Mounting.objects.count() == 1
    assert "drawing, seat width: &#x27;wide&#x27; is not a number; allowed: 1…2000 mm" in page
    assert inner_words(page) == []


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("field", "label", "typed"),
    [("work_order", "work order", "WO\x071"), ("date_code", "date code", "x" * 21)],
)
def test_the_form_of_the_order_calls_its_fields_as_they_are_labelled(
    job: Job, field: str, label: str, typed: str
) -> None:
    order = ORDER | SIZES | {field: typed}
    page = signed_in(job.shop, "fitter").post("/mountings/new/", order).content.decode()
    told = page.split('class="questions"', 1)[1].split("</div>", 1)[0]
    assert f">{label}:<" in told
    assert "Allowed: 1 to " in told
    assert inner_words(page) == []


@pytest.mark.django_db
def test_at_the_tablet_a_marking_that_cannot_be_read_is_asked_back_beside_it(job: Job) -> None:
    job.receive()
    job.measure()
    job.bore()
    client: Client = signed_in(job.shop, "fitter")
    page = release_here(client, job, marking="6212\x07C3").content.decode()
    field = re.search(r'<label for="f-marking">([^<]*)<', page)
    told = page.split('id="a-marking"', 1)[1].split(">", 1)[1].split("</p>", 1)[0]
    assert field
    assert told == f"{field[1]}: 6212□C3 is not understood. It wants 1 to 80 characters in one line."


@pytest.mark.django_db
def test_at_the_desk_too(job: Job) -> None:
    desk = sit(job.shop, "inspector", job)
    page = desk.do("own-reading", marking="6212\x07C3").content.decode()
    assert "6212□C3 is not understood. It wants 1 to 80 characters in one line." in beside(page, "marking")
