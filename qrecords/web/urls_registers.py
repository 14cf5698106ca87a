"""Addresses of the registers, of people, competence and tokens."""

from django.urls import URLPattern, URLResolver, path

from qrecords.web.views import (
    equipment_care,
    people,
    people_competence,
    people_tokens,
    registers,
    registers_forms,
    registers_tables,
)
from qrecords.web.views import registers_procedure_drafts as drafts
from qrecords.web.views import registers_procedures as procedures

urlpatterns: list[URLPattern | URLResolver] = [
    path("registers/", registers.registers, name="registers"),
    path("registers/machines/", registers.machines, name="machines"),
    path("registers/machines/new/", registers_forms.machine_new, name="machine-new"),
    path("registers/rebuilds/", registers.rebuilds, name="rebuilds"),
    path("registers/bearings/", registers.bearings, name="bearings"),
    path("registers/equipment/", registers.equipment, name="equipment"),
    path("registers/due/", registers.due, name="due"),
    path("registers/equipment/new/", registers_forms.equipment_new, name="equipment-new"),
    path(
        "registers/equipment/<uuid:id>/calibration/", registers_forms.calibration_new, name="calibration-new"
    ),
    path("registers/procedure/", procedures.procedures, name="procedure"),
    path("registers/procedure/first/", drafts.procedure_first, name="procedure-first"),
    path("registers/procedure/compare/", procedures.compare, name="procedure-compare"),
    path("registers/procedure/draft/", drafts.procedure_new, name="procedure-new"),
    path("registers/procedure/import/", drafts.procedure_import, name="procedure-import"),
    path("registers/procedure/versions/<str:digest>/", procedures.version, name="procedure-version"),
    path("registers/procedure/versions/<str:digest>/file/", procedures.file, name="procedure-file"),
    path("registers/procedure/drafts/<uuid:id>/", drafts.procedure_draft, name="procedure-draft"),
    path("registers/procedure/drafts/<uuid:id>/file/", procedures.draft_file, name="procedure-draft-file"),
    path("registers/procedure/drafts/<uuid:id>/edit/", drafts.draft_edit, name="procedure-draft-edit"),
    path("registers/procedure/drafts/<uuid:id>/decide/", drafts.procedure_decide, name="procedure-decide"),
    path(
        "registers/procedure/drafts/<uuid:id>/withdraw/", drafts.procedure_withdraw, name="procedure-withdraw"
    ),
    path("registers/equipment/<uuid:id>/check/", equipment_care.gauge_check, name="gauge-check"),
    path(
        "registers/equipment/<uuid:id>/certificates/<slug:sha256>/",
        equipment_care.certificate_file,
        name="certificate-file",
    ),
    path("registers/equipment/<uuid:id>/damage/", equipment_care.gauge_damage, name="gauge-damage"),
    path("registers/tables/", registers_tables.tables, name="tables"),
    path("registers/tables/<slug:table>/", registers_tables.table, name="table"),
    path("registers/tables/<slug:table>/row/", registers_tables.table_row, name="table-row"),
    path("registers/tables/<slug:table>/propose/", registers_tables.row_propose, name="table-row-propose"),
    path("registers/rows/<uuid:id>/", registers_tables.proposed_row, name="proposed-row"),
    path("registers/rows/<uuid:id>/decide/", registers_tables.row_decide, name="proposed-row-decide"),
    path("registers/rows/<uuid:id>/withdraw/", registers_tables.row_withdraw, name="proposed-row-withdraw"),
    path("mountings/all/", registers.all_mountings, name="all-mountings"),
    path("people/", people.people, name="people"),
    path("people/new/", people.person_new, name="person-new"),
    path("people/<uuid:id>/", people.person, name="person"),
    path("people/roles/<uuid:id>/end/", people.role_end, name="role-end"),
    path("people/<uuid:id>/password/", people.password_anew, name="password-anew"),
    path("people/<uuid:id>/close/", people.account_end, name="account-end"),
    path("competence/", people_competence.competence, name="competence"),
    path("competence/new/", people_competence.competence_new, name="competence-new"),
    path("tokens/", people_tokens.tokens, name="tokens"),
    path("tokens/<uuid:id>/revoke/", people_tokens.token_revoke, name="token-revoke"),
]
