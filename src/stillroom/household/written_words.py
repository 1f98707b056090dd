"""Numbers as one writes them into a household folder, exactly enough to read the same numbers out of it again."""

from __future__ import annotations


def number(value: float) -> str:
    """The shortest text that reads as the same number: "9", "0.5", "18143.6948"."""
    return repr(float(value)).removesuffix(".0")


def mass(mass_g: float) -> str:
    """A mass [g] as "9 kg" where that is the same number, else as "9071.8474 g"."""
    in_kg = number(mass_g / 1000)
    return f"{in_kg} kg" if float(in_kg) * 1000 == mass_g and mass_g >= 1000 else f"{number(mass_g)} g"


def bundle(count: int, piece: str, mass_g: float) -> str:
    """So many pieces of one size weighing `mass_g` [g] together: "6 birds of 2.2 kg"; a plain mass without a piece."""
    if not piece:
        return mass(mass_g)
    is_single = count == 1 and not piece.endswith("s")
    ending = "" if is_single else "es" if piece.endswith(("x", "sh")) else "s"
    return f"{count} {piece}{ending} of {mass(round(mass_g / count, 6))}"


def gauge(error_psi: float) -> str:
    """What a gauge shows too much or too little [psi]: "0.5 psi high", "0 psi"."""
    if error_psi == 0:
        return "0 psi"
    return f"{number(abs(error_psi))} psi {'high' if error_psi > 0 else 'low'}"


def days(count: int) -> str:
    """A clock: "3 days"."""
    return f"{count} day" if count == 1 else f"{count} days"
