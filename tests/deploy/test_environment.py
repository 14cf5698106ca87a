"""What a fresh machine lacks is said in one line; what is there is left alone."""

import shutil
from pathlib import Path

import pytest

from tests.deploy.conftest import ROOT, Done, done


def first_start(machine: Path, python: str, **variables: str) -> Done:
    """Run deploy/environment in a fresh folder on a machine whose only Python is this shell script."""
    (machine / "deploy").mkdir(parents=True)
    shutil.copy(ROOT / "deploy" / "environment", machine / "deploy")
    (machine / "requirements.txt").write_text("")
    tools = machine / "tools"
    tools.mkdir()
    (tools / "python3").write_text(f"#!/bin/bash\n{python}\n")
    (tools / "python3").chmod(0o755)
    for tool in ("bash", "sha256sum", "cut", "dirname", "rm", "touch"):
        (tools / tool).symlink_to(shutil.which(tool) or tool)
    return done(
        machine / "deploy" / "environment", "requirements.txt", cwd=machine, PATH=str(tools), **variables
    )


def test_a_python_that_is_too_old_is_named(tmp_path: Path) -> None:
    tried = first_start(tmp_path, 'case "$1" in -V) echo Python 3.9.2 ;; *) exit 1 ;; esac')
    assert tried.returncode == 1
    assert tried.stderr.splitlines() == ["Python 3.11 or newer is needed; python3 here is Python 3.9.2."]


def test_a_missing_venv_package_is_named_in_one_line(tmp_path: Path) -> None:
    tried = first_start(
        tmp_path, 'case "$*" in *ensurepip*) exit 1 ;; *version_info*) exit 0 ;; *) exit 9 ;; esac'
    )
    assert tried.returncode == 1
    assert tried.stderr.splitlines() == [
        "The package python3-venv is missing (Debian, Ubuntu: apt-get install python3-venv)."
    ]
    assert not (tmp_path / ".venv").exists()


def test_a_list_that_is_installed_is_not_installed_again(tmp_path: Path) -> None:
    makes_itself = 'case "$*" in "-m venv .venv") mkdir -p .venv/bin; cp "$0" .venv/bin/python ;; esac'
    tried = first_start(tmp_path, f'PATH=/usr/bin:/bin; echo "$*" >> calls; {makes_itself}')
    assert tried.returncode == 0, tried.stderr
    calls = tmp_path / "calls"
    assert "--require-hashes -r requirements.txt" in calls.read_text()
    before = calls.read_text().count("pip install")
    again = done(tmp_path / "deploy" / "environment", "requirements.txt", PATH="/usr/bin:/bin")
    assert again.returncode == 0
    assert calls.read_text().count("pip install") == before == 1


BARE_MACHINE = """
scratch=$PWD; redis_pid=; stop_postgresql=()
. "$1"
postgresql_bin() { echo "$PWD/nowhere"; }
has_nginx() { false; }
answers_postgresql() { false; }
answers_redis() { false; }
install_missing chromium-headless-shell nginx-light; install_missing postgresql redis-server
start_postgresql; start_redis; say_what_will_not_run
"""


def test_what_the_package_manager_refuses_costs_nothing_else_and_is_named_with_its_tests(
    tmp_path: Path,
) -> None:
    tools = tmp_path / "tools"
    tools.mkdir()
    for name, does in {
        "id": "echo 0",
        "apt-get": 'echo "$*" >> asked; case "$*" in *chromium*) echo E: no such one >&2; exit 100 ;; esac',
    }.items():
        (tools / name).write_text(f"#!/bin/bash\n{does}\n")
        (tools / name).chmod(0o755)
    for tool in ("bash", "env", "tail"):
        (tools / tool).symlink_to(shutil.which(tool) or tool)
    tried = done("bash", "-uc", BARE_MACHINE, "-", ROOT / ".ci" / "servers", cwd=tmp_path, PATH=str(tools))
    assert tried.returncode == 0, tried.stderr
    asked = [line.split()[-1] for line in (tmp_path / "asked").read_text().splitlines() if "install" in line]
    assert asked == ["chromium-headless-shell", "nginx-light", "postgresql", "redis-server"]
    assert tried.stdout.splitlines() == [
        "Installing chromium-headless-shell nginx-light",
        "E: no such one",
        "The package manager could not install chromium-headless-shell.",
        "Installing postgresql redis-server",
        "No Chromium: the tests marked browser do not run.",
        "No PostgreSQL: nothing runs on it, nor the tests of the production set.",
        "No Redis: the tests of the real worker do not run.",
        "No nginx: its configuration is not tried and the production set does not run.",
    ]


def test_the_demonstration_keeps_to_its_folder_whatever_the_environment_names(tmp_path: Path) -> None:
    (tmp_path / "deploy").mkdir()
    shutil.copy(ROOT / "deploy" / "demo", tmp_path / "deploy")
    python = tmp_path / ".venv" / "bin" / "python"
    python.parent.mkdir(parents=True)
    python.write_text('#!/bin/bash\nenv | grep ^QRECORDS_ > "$QRECORDS_HOME/seen"\n')
    python.chmod(0o755)
    real = {"QRECORDS_DATABASE": "postgresql://qrecords_owner@server/qrecords", "QRECORDS_KEYS": "/etc/keys"}
    tried = done(
        tmp_path / "deploy" / "demo", cwd=tmp_path, PATH="/usr/bin:/bin", QRECORDS_ZONE="UTC", **real
    )
    assert tried.returncode == 0, tried.stderr
    assert sorted((tmp_path / "var" / "seen").read_text().split()) == [
        f"QRECORDS_HOME={tmp_path}/var",
        "QRECORDS_ZONE=UTC",
    ]
    assert [line.split()[0] for line in tried.stderr.splitlines()] == list(real)


@pytest.mark.parametrize("arguments", [[], ["--forget"]])
def test_the_demonstration_never_touches_data_that_is_not_its_own(
    arguments: list[str], tmp_path: Path
) -> None:
    real = tmp_path / "qrecords.sqlite3"
    real.write_text("a real record")
    tried = done(ROOT / "deploy" / "demo", *arguments, PATH="/usr/bin:/bin", QRECORDS_HOME=str(tmp_path))
    assert tried.returncode == 1
    assert "not the demonstration" in tried.stderr
    assert real.read_text() == "a real record"
    assert list(tmp_path.iterdir()) == [real]
