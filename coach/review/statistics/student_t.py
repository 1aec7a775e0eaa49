"""Student's t: the quantile behind an interval and the two-sided p of a test."""


def t_quantile(probability_frac: float, df: int) -> float:
    """Return the value that Student's t stays below with a given probability.

    Args:
        probability_frac: Probability, 0 to 1, both excluded.
        df: Degrees of freedom, 1 or more.

    Returns:
        The quantile; no unit.
    """
    # Imported here so that painting never waits for a numeric library.
    from scipy.special import stdtrit  # noqa: PLC0415

    return float(stdtrit(df, probability_frac))


def t_two_sided_p(t: float, df: int) -> float:
    """Return the probability of a Student's t at least this far from zero.

    Args:
        t: Observed statistic.
        df: Degrees of freedom, 1 or more.

    Returns:
        Two-sided p, 0 to 1.
    """
    from scipy.special import stdtr  # noqa: PLC0415

    return 2.0 * float(stdtr(df, -abs(t)))
