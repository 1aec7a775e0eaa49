"""The nested mirror: an order that is mirrored, and the mirrored whole mirrored again, without end."""


def digit_sum(number: int, base: int) -> int:
    """Return the sum of the digits of a number written in this base (2 or more), modulo the base.

    For base 2 this is the Thue-Morse sequence. The numbers 0 to base^j - 1 fall into `base` classes by this
    value whose sums of p-th powers are equal for every p < j.

    Source:
        OEIS A010060. Prouhet, C. R. Acad. Sci. 33 (1851) 225 (from memory); general bases: Bolker, Offner,
        Richman and Zara, arXiv 1304.6756.
    """
    total = 0
    while number:
        number, digit = divmod(number, base)
        total += digit
    return total % base
