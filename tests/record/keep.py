"""`python -m tests.record.keep`: keep a payload of every kind and schema version that has none yet.

From the demonstration, loaded into a place that is thrown away, and from the few acts that it does not tell.
Of each the fullest is kept, of judgements the shortest, for one of them is like the other.
"""

import json
import os
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from io import StringIO
from typing import Any


def main() -> None:
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    import django

    django.setup()
    from tests.record.payloads import OLD, file_name, wanted

    _tell()
    missing = wanted() - {path.stem for path in OLD.glob("*.json")}
    found: dict[str, tuple[int, dict[str, Any]]] = {}
    for length, content in _filed():
        payload = content["payload"]
        name = file_name(payload["kind"], payload["versions"]["schema"])
        weight = -length if payload["kind"] == "judgement" else length
        if name in missing and weight > found.get(name, (-(2**16), {}))[0]:
            found[name] = (weight, content)
    for name, (_weight, content) in sorted(found.items()):
        text = json.dumps(content, ensure_ascii=False, indent=1)
        (OLD / f"{name}.json").write_text(text + "\n")
        print(f"kept {name}")  # noqa: T201
    for name in sorted(missing - set(found)):
        print(f"no entry of {name} was found")  # noqa: T201


def _filed() -> Iterator[tuple[int, dict[str, Any]]]:
    from qrecords.ledger import keys
    from qrecords.ledger.models import Leaf
    from qrecords.proof.canonical import parse_canonical

    key = keys.public_key().hex()
    for leaf in Leaf.objects.select_related("entry").order_by("index"):
        payload = bytes(leaf.entry.payload)
        yield (
            len(payload),
            {
                "index": leaf.index,
                "leaf": bytes(leaf.hash).hex(),
                "signature": bytes(leaf.entry.signature).hex(),
                "key": key,
                "payload": parse_canonical(payload),
            },
        )


def _tell() -> None:
    from django.core.management import call_command

    from tests.record.keep_care import of_care, of_look_backs
    from tests.record.keep_rebuilds import of_rebuilds
    from tests.record.tell_lives import tell_drawing, tell_lives, tell_night

    call_command("migrate", verbosity=0)
    call_command("install", stdout=StringIO())
    call_command("load_demo", stdout=StringIO())
    _of_steps()
    tell_lives(_acting)
    _of_mountings()
    tell_night(_acting)
    _of_people()
    _of_tables()
    _of_procedures()
    of_look_backs(_acting)
    of_rebuilds(_acting)
    _of_points()
    of_care(_acting)
    tell_drawing(_acting)


def _acting(sign_in: str) -> Any:
    from qrecords.demo.hall import ZONE
    from qrecords.people.acting import Acting
    from qrecords.people.models import Person

    who = Person.objects.get(sign_in=sign_in)
    return Acting(author=who, now=datetime(2026, 11, 24, 9, 0, tzinfo=UTC), identity="proved", zone=ZONE)


def _of_steps() -> None:
    """Every step whose schema of today has no payload yet, every field of it said."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.mountings.actions.recording import record
    from qrecords.mountings.models import Mounting
    from qrecords.steps.standard import STEPS
    from tests.record.payloads import OLD, file_name

    half = Mounting.objects.get(journal__machine__owner="Kestrel Moor estate")
    for step in STEPS.values():
        if (OLD / f"{file_name('capture', f'{step.id}/{step.version}')}.json").exists():
            continue
        record(
            acting=_acting("brandreth"),
            mounting=half,
            entry_id=new_id(),
            step_id=step.id,
            given={key: said for key, said in _each(step) if said is not None},
            reason="said anew, with everything the step asks",
        )


def _each(step: Any) -> Iterator[tuple[str, Any]]:
    """Every field with something that can be said of it, the places of a many-field too."""
    for field in step.fields:
        for place in field.places if field.many else ("",):
            yield f"{field.id}{place and '.'}{place}", _said(field)


def _said(field: Any) -> Any:
    """Something that can be said of a field; None for gear of which there is none."""
    from qrecords.engineering import units
    from qrecords.mountings.actions.recording import Typed
    from qrecords.steps.fields import Choice, Gear, Quantity
    from qrecords.workshop.models import Equipment

    match field.form:
        case Choice(options):
            return Typed(options[0], "")
        case Quantity() as form:
            middle = units.show((form.low + form.high) // 2, form.quantity, form.units[0], 0)
            return Typed(middle, form.units[0], sure=True)
        case Gear(kinds):
            piece = Equipment.objects.filter(kind__in=kinds).first()
            return Typed(str(piece.id), "") if piece else None
    return Typed("as found"[: field.form.longest], "")


def _of_mountings() -> None:
    """A package opened and looked at, words nobody can read, a record given back, one withdrawn, one
    amended."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.mountings.actions.finishing import withdraw
    from qrecords.mountings.actions.keeping import keep_unread
    from qrecords.mountings.actions.recording import Typed, record
    from qrecords.mountings.judging import judged_now
    from qrecords.mountings.models import Mounting
    from qrecords.people.permissions import Action
    from qrecords.signoff import actions as signoff
    from qrecords.signoff.amending import amend

    half = Mounting.objects.get(journal__machine__owner="Kestrel Moor estate")
    ready = Mounting.objects.get(journal__machine__owner="Thornlea felt mill")
    fitter, inspector = _acting("brandreth"), _acting("delacour")
    record(
        acting=fitter,
        mounting=half,
        entry_id=new_id(),
        step_id="identification",
        given={"package": Typed("opened", "")},
        reason="looked closer",
    )
    opened = next(found for found in judged_now(half).findings if found.characteristic == "package-intact")
    signoff.close_query(
        acting=fitter,
        mounting=half,
        entry_id=new_id(),
        digest=opened.digest,
        explanation="opened by the store to count",
    )
    keep_unread(
        acting=replace(fitter, at_device=fitter.now),
        mounting=half,
        entry_id=new_id(),
        right=Action.RECORD,
        sent='{"step": "measurement", "given": "forty and eight"}',
        why="given",
    )
    signoff.give_back(
        acting=inspector,
        mounting=ready,
        entry_id=new_id(),
        items=[("photo marking", "the last figure cannot be read")],
    )
    _of_paper(half)
    withdraw(acting=fitter, mounting=half, entry_id=new_id(), reason="opened for the wrong shaft")
    signed = Mounting.objects.filter(state="signed off").order_by("number")[0]
    amend(acting=inspector, mounting=signed, entry_id=new_id(), reason="the field was read on the yoke side")


def _of_paper(half: Any) -> None:
    """A sheet of paper, an answer from it, a hand-over with a note, and a photo drawn on."""
    from qrecords.ledger.envelope import File
    from qrecords.ledger.identifiers import new_id
    from qrecords.mountings.actions.handing import hand_over
    from qrecords.mountings.actions.marking import mark_photo
    from qrecords.mountings.actions.papering import FromPaper, file_sheet
    from qrecords.mountings.actions.recording import Typed, record
    from qrecords.people.models import Person

    fitter, pell = _acting("brandreth"), Person.objects.get(sign_in="pell")
    _of_a_shift(fitter, half.site)
    photo = File("5e" * 32, 812_345, "image/jpeg", "paper_sheet")
    sheet = file_sheet(
        acting=fitter,
        mounting=half,
        entry_id=new_id(),
        by=pell,
        day="2026-11-23",
        photos=[photo],
        camera=True,
    )
    record(
        acting=fitter,
        mounting=half,
        entry_id=new_id(),
        step_id="seating",
        given={"film": Typed("thin oil", "")},
        reason="as the sheet says",
        paper=FromPaper(sheet.id, "2026-11-23 21:40"),
    )
    marks = [
        {"kind": "arrow", "from": [120, 140], "to": [430, 512]},
        {"kind": "circle", "at": [470, 540], "radius": 60},
        {"kind": "text", "at": [40, 100], "text": "written 9 or 4?"},
    ]
    mark_photo(acting=fitter, mounting=half, entry_id=new_id(), sha256=photo.sha256, marks=marks)
    hand_over(acting=fitter, mounting=half, entry_id=new_id(), to=pell, note="cold check still to do")


def _of_a_shift(fitter: Any, site: Any) -> None:
    from qrecords.ledger.identifiers import new_id
    from qrecords.workshop.models import Equipment
    from qrecords.workshop.shifts import read_climate, start_shift

    gear = Equipment.objects.filter(kind__in=("outside micrometer", "feeler set")).order_by("mark")[:3]
    climate = read_climate({"air": ("19,5", "°C"), "humidity": ("48", "%")})
    start_shift(
        acting=fitter, site=site, shift_id=new_id(), gear=[piece.id for piece in gear], climate=climate
    )


def _of_people() -> None:
    """A token and its end, a forgotten password, a role taken back, an account closed."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.ledger.queries import home_site
    from qrecords.people import actions as people
    from qrecords.people.models import RoleGrant
    from qrecords.people.passwords import seal
    from qrecords.people.permissions import Action

    site, administrator, fitter = home_site(), _acting("ashgrove"), _acting("pell")
    assert site is not None
    token, _secret = people.make_token(
        acting=fitter,
        site=site,
        token_id=new_id(),
        label="tablet at the press",
        actions=frozenset({Action.READ, Action.ATTACH}),
    )
    people.revoke_token(acting=fitter, token=token)
    people.give_first_password(
        acting=administrator,
        entry_id=new_id(),
        site=site,
        person=fitter.author,
        password=seal("given-by-the-office"),
    )
    grant = RoleGrant.objects.get(person=fitter.author)
    people.end_role(acting=administrator, entry_id=new_id(), grant=grant)
    people.close_account(acting=administrator, entry_id=new_id(), site=site, person=fitter.author)


def _of_tables() -> None:
    """A row from the site's own copy put in force and withdrawn again, and one refused."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.ledger.queries import home_site
    from qrecords.workshop import table_actions as tables
    from tests.workshop.own_copy import CLEARANCE, IT6

    site, engineer, quality = home_site(), _acting("hollin"), _acting("tremaine")
    assert site is not None
    first, second = (
        tables.propose_row(
            acting=engineer, site=site, row_id=new_id(), document=document, reason="compared with our copy"
        )
        for document in (CLEARANCE, IT6)
    )
    tables.approve_row(acting=quality, act_id=new_id(), row=first)
    tables.withdraw_row(acting=quality, act_id=new_id(), row=first, reason="the edition was withdrawn")
    tables.refuse_row(acting=quality, act_id=new_id(), row=second, reason="not what our copy says")


def _of_procedures() -> None:
    """A procedure drafted and put in force by two; one refused, and one withdrawn."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.ledger.queries import home_site
    from qrecords.steps.procedure import STANDARD
    from qrecords.workshop import procedure_actions as procedures

    site, engineer, quality = home_site(), _acting("hollin"), _acting("tremaine")
    assert site is not None
    visit = {
        "id": "visit",
        "kind": "witness",
        "title": "Fit seen",
        "party": "class surveyor",
        "wording": "Surveyor to be given one hour's notice of fit-up.",
        "covers": ["measurement.journal"],
        "notice_min": 60,
    }
    drafts = [
        procedures.draft_procedure(
            acting=engineer,
            site=site,
            draft_id=new_id(),
            document={**STANDARD, "name": "HM-2", "revision": revision, "points": [visit]},
            reason="the customer asks for two directions",
        )
        for revision in "ABC"
    ]
    for approving in (engineer, quality):
        procedures.approve_procedure(acting=approving, act_id=new_id(), draft=drafts[0])
    procedures.refuse_procedure(acting=quality, act_id=new_id(), draft=drafts[1], reason="not asked for")
    procedures.withdraw_procedure(acting=engineer, act_id=new_id(), draft=drafts[2], reason="a slip")


def _of_points() -> None:
    """The surveyor told of a witness point of the procedure that was put in force."""
    from qrecords.ledger.identifiers import new_id
    from qrecords.mountings.actions.opening import open_mounting
    from qrecords.mountings.actions.pointing import AtPoint, say_at_point
    from qrecords.mountings.models import Mounting

    half, fitter = Mounting.objects.get(journal__machine__owner="Kestrel Moor estate"), _acting("brandreth")
    mounting = open_mounting(
        acting=fitter,
        mounting_id=new_id(),
        journal=half.journal,
        bearing=half.bearing,
        rebuild=half.rebuild,
    )
    told = AtPoint(what="notified", who="E. Marlow", how="telephone", at=fitter.now)
    say_at_point(acting=fitter, mounting=mounting, entry_id=new_id(), point="visit", said=told)


if __name__ == "__main__":
    main()
