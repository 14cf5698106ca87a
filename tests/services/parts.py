"""Parts of a production installation for tests: ports, certificates, processes that end with the test."""

import os
import shutil
import socket
import subprocess
import time
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import NameOID


def nginx_binary() -> str:
    """The path of nginx; the test is skipped where it is not installed."""
    found = shutil.which("nginx", path=f"{os.environ['PATH']}:/usr/sbin:/sbin")
    if found is None:
        pytest.skip("nginx is not installed")
    return found


def free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return int(taken.getsockname()[1])


def certificate(folder: Path, name: str) -> tuple[Path, Path]:
    """A self-signed certificate for one host name: the files of key and certificate."""
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    now = datetime.now(UTC)
    made = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(minutes=5))
        .not_valid_after(now + timedelta(days=1))
        .add_extension(x509.SubjectAlternativeName([x509.DNSName(name)]), critical=False)
        .sign(key, hashes.SHA256())
    )
    key_file, cert_file = folder / "certificate.key", folder / "certificate.pem"
    key_file.write_bytes(
        key.private_bytes(
            serialization.Encoding.PEM, serialization.PrivateFormat.PKCS8, serialization.NoEncryption()
        )
    )
    cert_file.write_bytes(made.public_bytes(serialization.Encoding.PEM))
    return key_file, cert_file


def until(holds: Callable[[], bool], what: str, within_s: float = 30) -> None:
    """Wait until something holds, or fail saying what never did."""
    ends = time.monotonic() + within_s
    while not holds():
        if time.monotonic() > ends:
            pytest.fail(f"not within {within_s:g} s: {what}")
        time.sleep(0.1)


class Processes:
    """Programs started for a test, each writing to a log of its own; all are ended with it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._running: dict[str, subprocess.Popen[bytes]] = {}

    def start(self, name: str, command: list[str], environment: dict[str, str], cwd: Path) -> None:
        with self.log(name).open("ab") as log:
            self._running[name] = subprocess.Popen(  # noqa: S603 - our own program and its servers
                command, env=environment, cwd=cwd, stdout=log, stderr=subprocess.STDOUT
            )

    def log(self, name: str) -> Path:
        return self._folder / f"{name}.log"

    def alive(self, name: str) -> bool:
        return self._running[name].poll() is None

    def kill(self, name: str) -> None:
        """End a program at once, as a power cut does."""
        self._running[name].kill()
        self._running.pop(name).wait()

    def stop(self, name: str) -> None:
        """Ask a program to end and wait until it has."""
        self._running[name].terminate()
        self._running.pop(name).wait(40)

    def end(self) -> None:
        for process in self._running.values():
            process.terminate()
        for process in self._running.values():
            try:
                process.wait(20)
            except subprocess.TimeoutExpired:
                process.kill()
                process.wait()
