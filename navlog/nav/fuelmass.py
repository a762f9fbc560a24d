"""Fuel between volume and mass, by the density that an aircraft file states."""

from __future__ import annotations

from navlog.nav.units import Amount, converted


def fuel_in(amount: Amount, unit: str, *, density_kg_per_l: float | None) -> Amount | None:
    """Fuel or a burn in another unit; between volume and mass by the density, None without one.

    `unit` is such as "lb" for fuel and "lb/h" for a burn.
    """
    same_kind = converted(amount, unit)
    if same_kind is not None or density_kg_per_l is None:
        return same_kind
    _, slash, per = amount.unit.partition("/")
    litres, kilograms = converted(amount, f"L{slash}{per}"), converted(amount, f"kg{slash}{per}")
    if litres is not None:
        return converted(Amount(litres.value * density_kg_per_l, f"kg{slash}{per}"), unit)
    if kilograms is not None:
        return converted(Amount(kilograms.value / density_kg_per_l, f"L{slash}{per}"), unit)
    return None
