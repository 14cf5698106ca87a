"""Steps that a procedure chooses, at the pages: asked where they belong, recorded, and shown to everybody."""

import pytest
from django.test import Client
from django.urls import reverse

from qrecords.mountings.queries import case_of
from qrecords.steps.fields import Gear
from qrecords.steps.procedure import STANDARD
from qrecords.steps.rules import Stage
from qrecords.steps.standard import STEPS
from qrecords.steps.work import CHOSEN
from qrecords.web.chosen_words import CHOSEN as WORDS
from qrecords.web.fitter.screens import SCREENS
from tests.cast import SEEN_BEFORE_HEAT, SEEN_COLD, Job, Workshop, start
from tests.steps.casebook import BEFORE_TAPS, BESIDE, everything
from tests.steps.chosen_sound import chosen_sound
from tests.web.certificate_hand import certificate
from tests.web.desk import sit
from tests.web.fitter_hand import fill
from tests.workshop.drafts import in_force

pytestmark = pytest.mark.django_db
SCREEN_OF = {part.name: screen.name for screen in SCREENS.values() for part in screen.parts}


@pytest.fixture
def job(shop: Workshop) -> Job:
    """One mounting under a procedure that asks everything."""
    in_force(shop, **{key: value for key, value in everything().items() if key not in ("name", "revision")})
    return start(shop)


def typed(shop: Workshop, step: str) -> dict[str, str]:
    """What a sound record says of a step, as its page sends it; gear that the hall lacks is left out."""
    fields: dict[str, str] = {}
    for key, said in chosen_sound(step).items():
        place = key.replace("__", ".")
        name, form = f"{step}.{place}", STEPS[step].field(place).form
        text, unit = said if isinstance(said, tuple) else (said, "")
        if isinstance(form, Gear):
            if text not in shop.gear:
                continue
            text = str(shop.gear[text].id)
        fields |= {name: text} | ({f"unit:{name}": unit} if unit else {})
    return fields


def at(job: Job, step: str) -> str:
    return f"{reverse(f'fit-{SCREEN_OF[step]}', args=[job.mounting.id])}?part={step}"


def test_every_chosen_step_has_a_page_before_one_that_exists() -> None:
    assert set(WORDS) == set(CHOSEN)
    for screen in SCREENS.values():
        names = [part.name for part in screen.parts]
        own = [name for name in names if name in CHOSEN]
        assert all(names.index(name) < names.index(WORDS[name].before) for name in own)
    assert set(CHOSEN) <= set(SCREEN_OF)


def test_every_field_of_every_step_stands_on_a_page_and_has_a_label() -> None:
    asked = {".".join(n.split(".")[:2]) for s in SCREENS.values() for part in s.parts for n in part.fields}
    known = {f"{step.id}.{field.id}" for step in STEPS.values() for field in step.fields}
    assert known - asked == {"bore.master"}, "sent by the API alone"
    for step, words in WORDS.items():
        assert set(words.labels) == {field.id for field in STEPS[step].fields}
        assert set(words.names) == set(words.why) == {rule.id for rule in STEPS[step].rules}


def test_a_procedure_without_a_step_has_no_page_for_it(shop: Workshop, fitter: Client) -> None:
    job = start(shop)
    assert fitter.get(at(job, "shoulder")).status_code == 404
    page = fitter.get(reverse("fit-measure", args=[job.mounting.id])).content.decode()
    assert "part=shoulder" not in page
    assert "part=bore" in page


@pytest.mark.parametrize("step", list(CHOSEN))
def test_what_is_typed_on_the_page_of_a_chosen_step_is_recorded(job: Job, fitter: Client, step: str) -> None:
    page = fitter.get(at(job, step))
    assert page.status_code == 200
    answered = fill(fitter, at(job, step), typed(job.shop, step))
    assert answered.status_code == 302, answered.content.decode()[:3000]
    said = case_of(job.mounting).answers[step]
    assert set(said) == {
        name.split(".", 1)[1] for name in typed(job.shop, step) if not name.startswith("unit:")
    }


def test_a_slip_on_the_page_of_a_chosen_step_is_asked_back_with_its_range(job: Job, fitter: Client) -> None:
    answered = fill(fitter, at(job, "shoulder"), {"shoulder.height": "45", "unit:shoulder.height": "mm"})
    assert answered.status_code == 422
    assert "1…20 mm" in answered.content.decode()
    assert "shoulder" not in case_of(job.mounting).answers


def test_what_is_out_is_said_on_the_page_in_the_words_of_its_rule(job: Job, fitter: Client) -> None:
    fill(fitter, at(job, "shoulder"), {**typed(job.shop, "shoulder"), "shoulder.runout": "14"})
    page = fitter.get(at(job, "shoulder")).content.decode()
    assert "Run-out of the shoulder: 14\u202fµm," in page and "wanted: ≤ 13\u202fµm" in page


def record(job: Job, fitter: Client, *, hot: bool) -> None:
    """The chosen steps through the pages: those before the taps, or those after."""
    for step in CHOSEN:
        before = STEPS[step].stage in (Stage.RECEIVE, Stage.MEASURE) or STEPS[step].row in BEFORE_TAPS
        if before != hot:
            assert fill(fitter, at(job, step), typed(job.shop, step)).status_code == 302


def signed(job: Job, fitter: Client) -> None:
    record(job, fitter, hot=False)
    job.receive()
    job.measure()
    job.bore()
    job.photograph(*SEEN_BEFORE_HEAT)
    job.heat(release=job.leaf(job.release("fit")))
    job.say("heating", cross_check=("94", "°C"))
    job.check_cold()
    record(job, fitter, hot=True)
    job.photograph(*SEEN_COLD)
    job.say("running", turns="smooth", **{name.partition(".")[2]: said for name, said in BESIDE.items()})
    job.release("cold")
    job.say("protection", covered="yes")


def test_everybody_sees_what_a_chosen_step_found(job: Job, fitter: Client) -> None:
    """The whole sheet, the inspector's record, the auditor's and the certificate, in the same words."""
    signed(job, fitter)
    assert job.flags() == {}
    job.ready()
    desk = sit(job.shop, "inspector", job)
    pages = {"sheet": fitter.get(reverse("sheet", args=[job.mounting.id])).content.decode()}
    pages["inspector"] = desk.read()
    job.sign()
    pages["certificate"] = certificate(job)
    auditor = sit(job.shop, "auditor", job).client
    answered = auditor.get(reverse("mounting-trace", args=[job.mounting.id]))
    pages["auditor"] = answered.content.decode()
    for where, page in pages.items():
        for step in ("shoulder", "housing", "end_play", "lubrication"):
            name = next(iter(WORDS[step].names.values()))
            assert name in page, (where, name)
    assert "fillet radius" in pages["sheet"]


def test_the_standard_procedure_asks_none_of_them() -> None:
    assert not set(STANDARD["steps"]) & set(CHOSEN)
