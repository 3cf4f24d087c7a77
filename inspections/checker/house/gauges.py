"""Wire sizes as numbers: AWG falls as conductors grow, on past 0 for 1/0, 2/0 and up."""

KCMIL = ("250", "300", "350", "400", "500")
LARGEST_AWG = -3  # 4/0


def awg_number(gauge: str | None) -> int:
    """14 for 14 AWG, 0 for 1/0, -1 for 2/0, then kcmil sizes on from -4; 99 for no size."""
    if gauge is None:
        return 99
    if gauge in KCMIL:
        return -4 - KCMIL.index(gauge)
    if "/" in gauge:
        return 1 - int(gauge.partition("/")[0])
    return int(gauge)


def awg(number: float) -> str:
    """The size that a number stands for, with its unit."""
    whole = int(number)
    if whole < LARGEST_AWG:
        return f"{KCMIL[LARGEST_AWG - 1 - whole]} kcmil"
    if whole > 0:
        return f"{whole} AWG"
    return f"{1 - whole}/0 AWG"
