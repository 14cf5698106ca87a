"""deploy/make-roles on a real PostgreSQL: owner, application, database, whatever the passwords."""

import shutil
import uuid
from pathlib import Path
from urllib.parse import quote, urlsplit

import psycopg
import pytest

from tests.deploy.conftest import DEPLOY, Run

pytestmark = pytest.mark.service


def test_the_roles_can_sign_in_and_only_the_owner_makes_tables(
    database_url: str, run: Run, tmp_path: Path
) -> None:
    if not database_url.startswith("postgresql:"):
        pytest.skip("SQLite knows no roles")
    if shutil.which("psql") is None:
        pytest.skip("psql is not installed")
    server, mark = urlsplit(database_url), f"t{uuid.uuid4().hex[:8]}_"
    script = tmp_path / "make-roles"
    script.write_text((DEPLOY / "make-roles").read_text().replace("qrecords", f"{mark}qrecords"))
    script.chmod(0o755)
    place = ["--host", server.hostname, "--port", server.port or 5432]
    secrets = {"OWNER_PASSWORD": 'it\'s "so"', "APPLICATION_PASSWORD": "$HOME; DROP"}
    administrator = {"POSTGRES_USER": server.username, "PGPASSWORD": server.password or ""}
    try:
        made = run(script, *place, **secrets, **administrator)
        assert made.returncode == 0, made.stderr
        net = f"{server.hostname}:{server.port or 5432}/{mark}qrecords"
        with psycopg.connect(
            f"postgresql://{mark}qrecords_owner:{quote(secrets['OWNER_PASSWORD'])}@{net}"
        ) as owner:
            owner.execute("CREATE TABLE entry (id integer)")
        application = f"postgresql://{mark}qrecords_app:{quote(secrets['APPLICATION_PASSWORD'])}@{net}"
        for statement in ("CREATE TABLE other (id integer)", "SELECT * FROM entry"):
            with psycopg.connect(application) as other, pytest.raises(psycopg.errors.InsufficientPrivilege):
                other.execute(statement)
    finally:
        with psycopg.connect(database_url, autocommit=True) as root:
            root.execute(f"DROP DATABASE IF EXISTS {mark}qrecords WITH (FORCE)")
            for role in ("owner", "app"):
                root.execute(f"DROP ROLE IF EXISTS {mark}qrecords_{role}")
