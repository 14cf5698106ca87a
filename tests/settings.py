"""The settings of the tests: one throw-away home, the database named by QRECORDS_TEST_DATABASE_URL.

Set before Django reads its settings, because an installation's choices are read from the environment once.
"""

import atexit
import os
import shutil
import tempfile
from pathlib import Path

_HOME = Path(tempfile.mkdtemp(prefix="qrecords-test-"))
atexit.register(shutil.rmtree, _HOME, ignore_errors=True)

(_HOME / "static").mkdir()  # where collected files would lie; their server warns when it is missing

os.environ["QRECORDS_HOME"] = str(_HOME)
os.environ["QRECORDS_DATABASE"] = os.environ.get(
    "QRECORDS_TEST_DATABASE_URL", f"sqlite:///{_HOME}/qrecords.sqlite3"
)
for _name in (
    "QRECORDS_BROKER", "QRECORDS_KEYS", "QRECORDS_EVIDENCE", "QRECORDS_SECRET", "QRECORDS_STATIC",
    "QRECORDS_PLANNER_OPEN",
):  # fmt: skip
    os.environ.pop(_name, None)

from qrecords.settings import *  # noqa: E402, F403 - the environment had to come first

# A fixed iteration count of real password hashing would be most of the time of the whole suite.
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):  # noqa: F405
    # A file, because an in-memory database cannot be copied or shared between threads and processes.
    DATABASES["default"]["TEST"] = {"NAME": str(_HOME / "test.sqlite3")}  # noqa: F405
