"""The files of a production installation: they parse, agree with each other, and name only what exists."""

import re
import shutil
import sys
from configparser import RawConfigParser
from pathlib import Path

import pytest
import yaml

from tests.deploy.conftest import DEPLOY, ROOT, Run, done

COMPOSE = yaml.safe_load((DEPLOY / "compose.yaml").read_text())
SERVICES = COMPOSE["services"]
UNITS = sorted((DEPLOY / "systemd").iterdir())
SCRIPTS = ["backup", "demo", "environment", "make-roles", "render-nginx", "restore", "setup"]
CI_SCRIPTS = ["run", "test", "lint", "servers"]


def unit(name: str) -> RawConfigParser:
    parsed = RawConfigParser(strict=False)
    parsed.optionxform = str  # type: ignore[assignment, method-assign]
    parsed.read(DEPLOY / "systemd" / name)
    return parsed


def known_variables() -> set[str]:
    """Every variable that the program or a file in deploy/ reads."""
    read_by_program = re.findall(r'"(QRECORDS_[A-Z_]+)"', (ROOT / "qrecords" / "settings.py").read_text())
    read_by_program += re.findall(r'"(QRECORDS_[A-Z_]+)"', (DEPLOY / "gunicorn.conf.py").read_text())
    read_by_scripts = [
        name
        for script in SCRIPTS
        for name in re.findall(r"\$\{(QRECORDS_[A-Z_]+)", (DEPLOY / script).read_text())
    ]
    return set(read_by_program + read_by_scripts)


def test_compose_starts_the_whole_of_it() -> None:
    assert set(SERVICES) == {"setup", "web", "worker", "beat", "database", "broker", "nginx"}


def test_whatever_reads_the_records_waits_for_setup() -> None:
    for name in ("web", "worker", "beat"):
        assert SERVICES[name]["depends_on"]["setup"] == {"condition": "service_completed_successfully"}


def test_every_volume_that_a_service_names_is_declared() -> None:
    named = {
        volume.split(":")[0]
        for service in SERVICES.values()
        for volume in service.get("volumes", [])
        if not volume.startswith((".", "$"))
    }
    assert named == set(COMPOSE["volumes"])


def test_every_file_that_compose_mounts_or_builds_from_is_here() -> None:
    mounted = [v.split(":")[0] for s in SERVICES.values() for v in s.get("volumes", []) if v.startswith(".")]
    assert mounted
    for file in [*mounted, "Dockerfile"]:
        assert (DEPLOY / file).is_file(), file


def test_every_setting_that_compose_gives_is_one_that_somebody_reads() -> None:
    given = {
        name for s in SERVICES.values() for name in s.get("environment", {}) if name.startswith("QRECORDS_")
    }
    assert given - known_variables() == set()


@pytest.mark.parametrize("example", ["qrecords.env.example", "owner.env.example"])
def test_every_setting_of_the_examples_is_one_that_somebody_reads(example: str) -> None:
    assert set(environment(example)) - known_variables() == set()


def environment(example: str) -> dict[str, str]:
    lines = [
        line for line in (DEPLOY / example).read_text().splitlines() if line and not line.startswith("#")
    ]
    return dict(line.split("=", 1) for line in lines)


def test_the_program_accepts_the_example_settings(run: Run) -> None:
    shown = run(sys.executable, "manage.py", "diffsettings", **environment("qrecords.env.example"))
    assert shown.returncode == 0, shown.stderr
    assert "ALLOWED_HOSTS = ['records.workshop.example']" in shown.stdout
    assert "SECURE_SSL_REDIRECT = True" in shown.stdout


@pytest.mark.parametrize("name", ["web", "worker", "beat"])
def test_units_and_containers_start_the_same_command(name: str) -> None:
    dockerfile = (DEPLOY / "Dockerfile").read_text()
    by_default = " ".join(re.findall(r'"([^"]+)"', dockerfile.split("\nCMD ")[1]))
    in_container = SERVICES[name].get("command", by_default)
    by_unit = unit(f"qrecords-{name}.service")["Service"]["ExecStart"]
    assert by_unit == f"/opt/qrecords/.venv/bin/{in_container}"


@pytest.mark.parametrize("path", UNITS, ids=lambda path: path.name)
def test_a_unit_names_only_units_that_exist(path: Path) -> None:
    text = path.read_text()
    ours = set(re.findall(r"qrecords[a-z-]*\.(?:service|target|timer)", text))
    assert ours <= {other.name for other in UNITS}


def test_only_setup_and_backup_ever_sign_in_as_the_owner_of_the_tables() -> None:
    readers = {path.name for path in UNITS if "owner.env" in path.read_text()}
    assert readers == {"qrecords-setup.service", "qrecords-backup.service"}
    for name in ("web", "worker", "beat"):
        assert "qrecords_app:" in SERVICES[name]["environment"]["QRECORDS_DATABASE"]


def test_systemd_finds_no_fault_in_the_units(tmp_path: Path, run: Run) -> None:
    systemd_analyze = shutil.which("systemd-analyze")
    if systemd_analyze is None:
        pytest.skip("systemd-analyze is not installed")
    for path in UNITS:
        (tmp_path / path.name).write_text(path.read_text().replace("/opt/qrecords", str(ROOT)))
    found = run(systemd_analyze, "verify", *sorted(tmp_path.iterdir()))
    assert (found.returncode, found.stderr) == (0, "")


@pytest.mark.parametrize(
    "path", [*(DEPLOY / s for s in SCRIPTS), *(ROOT / ".ci" / s for s in CI_SCRIPTS)], ids=lambda p: p.name
)
def test_a_script_is_written_correctly(path: Path) -> None:
    read = done("/bin/bash", "-n", path)
    assert (read.returncode, read.stderr) == (0, "")
    if path.name != "servers":  # sourced
        assert path.stat().st_mode & 0o111


def test_the_index_of_make_lists_what_others_build_on(run: Run) -> None:
    index = run("/usr/bin/make", "help").stdout
    for target in ("demo", "demo-reset", "test", "lint", "bench", "help"):
        assert re.search(rf"^{target} +\S", index, re.MULTILINE), target


def test_the_nightly_unit_makes_a_copy_and_tries_it() -> None:
    """A dollar sign meant for the shell is written twice, else systemd takes it (systemd.service(5))."""
    start = unit("qrecords-backup.service")["Service"]["ExecStart"]
    assert "deploy/restore" in start
    assert "deploy/backup" in start
    assert not re.search(r"(?<!\$)\$(?!\$)", start)
