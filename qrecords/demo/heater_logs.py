"""What the hall's heater writes of one heating: delimited text, a line every two seconds, from the sheet."""

from math import exp, sin

from qrecords.demo.sheet import Sheet

HEAD = "Moorgarth induction heater, unit 2\nunit °C\nt [s];inner ring;outer ring"
STEP_S, COLD_S, HEATED_S, ON_S = 2, 16, 590, 24
"""The step of the log; how long it runs before the heat, heats, and goes on after it."""
SLOWER_S = 420
"""Time constant of the rise: the hotter, the slower."""
OUTER_SHARE = 0.88
COOLS_K_PER_S = 0.05


def log_text(sheet: Sheet, *, probe_off_at_s: int | None = None) -> bytes:
    """The log of a heating to the peak of the sheet; with `probe_off_at_s` the inner ring's probe falls off
    then, and shows the air of the hall."""
    start, peak, air = float(sheet.shaft_c), float(sheet.peak), float(sheet.air_c)
    rows = [HEAD]
    for at_s in range(0, COLD_S + HEATED_S + ON_S + 1, STEP_S):
        inner = start + (peak - start) * _risen(at_s)
        outer = start + OUTER_SHARE * (inner - start)
        if probe_off_at_s is not None and at_s > probe_off_at_s:
            read = start + (peak - start) * _risen(probe_off_at_s)
            inner = air + (read - air) * exp(-(at_s - probe_off_at_s) / 5)
        rows.append(f"{at_s};{_figure(inner, at_s)};{_figure(outer, at_s + 1)}")
    return ("\n".join(rows) + "\n").encode()


def _risen(at_s: float) -> float:
    """The share of the rise reached by then; over its end the ring cools."""
    heated_s = min(max(at_s - COLD_S, 0), HEATED_S)
    share = (1 - exp(-heated_s / SLOWER_S)) / (1 - exp(-HEATED_S / SLOWER_S))
    after_s = max(at_s - COLD_S - HEATED_S, 0)
    return share - after_s * COOLS_K_PER_S / 100


def _figure(celsius: float, at_s: int) -> str:
    """To a tenth, a tenth up or down by the moment, with the comma of the hall's heater."""
    return f"{celsius + 0.1 * sin(at_s):.1f}".replace(".", ",")
