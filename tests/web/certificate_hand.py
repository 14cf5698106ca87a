"""A job that is signed off, and its certificate as somebody reads it, in the tests."""

from tests.cast import SEEN_BEFORE_HEAT, SEEN_COLD, Job, make_workshop, start
from tests.kept import kept
from tests.web.desk import sit


@kept
def until_signature(job: Job, peak_c: str = "95", package: str = "intact") -> None:
    job.receive()
    if package != "intact":
        job.say("identification", reason="seen now", package=package)
    job.measure()
    job.bore()
    job.photograph(*SEEN_BEFORE_HEAT)
    job.heat(release=job.leaf(job.release("fit")), peak_c=peak_c, press_s=200)
    job.check_cold()
    job.photograph(*SEEN_COLD)
    job.release("cold")
    job.close()
    job.ready()


def signed_job() -> Job:
    job = start(make_workshop())
    until_signature(job)
    job.sign()
    return job


def certificate(job: Job, who: str = "auditor") -> str:
    return sit(job.shop, who, job).read("certificate")
