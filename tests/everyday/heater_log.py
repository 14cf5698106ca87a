"""The log a heater writes of one sound heating: up, a moment at the top, off, and slowly down in free air."""

import random


def heater_log(dice: random.Random, start_c: float, peak_c: float, heated_s: float, fahrenheit: bool) -> str:
    """Delimited text, inner ring then outer, sampled each 1 to 5 s; now and then a sample is lost. In air a
    ring loses 0.02 to 0.07 K/s (own arithmetic, natural convection)."""
    step, unit = dice.choice((1, 2, 5)), "°F" if fahrenheit else "°C"
    after_s, loss, behind = dice.uniform(20, 60), dice.uniform(0.02, 0.07), dice.uniform(0.9, 0.97)
    rows = [f"t [s];inner [{unit}];outer [{unit}]"]
    for second in range(0, int(heated_s + after_s), step):
        rising = min(1.0, (second + step) / heated_s)
        inner = start_c + (peak_c - start_c) * rising - loss * max(0.0, second - heated_s)
        cells = [_cell(dice, true, fahrenheit) for true in (inner, start_c + (inner - start_c) * behind)]
        rows.append(f"{second};{cells[0]};{cells[1]}")
    return "\n".join(rows)


def _cell(dice: random.Random, true_c: float, fahrenheit: bool) -> str:
    if dice.random() < 0.003:
        return "open"
    read = true_c + dice.gauss(0, 0.1)
    return f"{read * 1.8 + 32 if fahrenheit else read:.1f}"
