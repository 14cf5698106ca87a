"""One line of text that a register keeps, or what is wrong with it."""

from datetime import date, datetime, tzinfo

from qrecords.workshop.errors import RegisterFieldError


def one_line(field: str, value: str, longest: int) -> str:
    """One line that says something, within its length."""
    text = value.strip()
    if not text or len(text) > longest or not text.isprintable():
        raise RegisterFieldError(field, value, f"1 to {longest} characters in one line")
    return text


def optional_line(field: str, value: str, longest: int) -> str:
    return one_line(field, value, longest) if value.strip() else ""


def past_day(field: str, day: date, now: datetime, zone: tzinfo) -> date:
    """A day that has begun where the act was done: what is still to come did not happen."""
    if day > now.astimezone(zone).date():
        raise RegisterFieldError(field, day.isoformat(), "a day that is not after today")
    return day
