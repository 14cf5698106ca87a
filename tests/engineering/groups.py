"""Sets of readings for properties: whole tenths of a µm, as a gauge reads them, never all the same."""

from hypothesis import strategies as st

Groups = list[list[float]]
Study = list[list[list[float]]]
TENTHS = st.integers(-500, 500).map(lambda tenths: tenths / 10)


@st.composite
def subgroups(draw: st.DrawFn, least: int = 2, most: int = 8) -> Groups:
    """Even subgroups of 2 to 10, at least one with two different readings."""
    count, size = draw(st.integers(least, most)), draw(st.integers(2, 10))
    found = [[draw(TENTHS) for _ in range(size)] for _ in range(count)]
    found[0][1] = found[0][0] + draw(st.integers(1, 50)) / 10
    return found


@st.composite
def studies(draw: st.DrawFn) -> Study:
    """Even crossed studies; at least one part was read differently by one operator."""
    operators, parts, trials = (draw(st.integers(2, 4)) for _ in range(3))
    found = [[[draw(TENTHS) for _ in range(trials)] for _ in range(parts)] for _ in range(operators)]
    found[0][0][1] = found[0][0][0] + draw(st.integers(1, 50)) / 10
    return found


def changed(groups: Groups, factor: float = 1.0, shift: float = 0.0) -> Groups:
    return [[value * factor + shift for value in group] for group in groups]


def changed_study(study: Study, factor: float = 1.0, shift: float = 0.0) -> Study:
    return [changed(row, factor, shift) for row in study]
