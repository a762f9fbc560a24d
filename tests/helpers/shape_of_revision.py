"""The shape of a flight revised in the air, in the words of `helpers.shapes`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeAlias

Shape: TypeAlias = "str | Mapping[str, Shape]"

REVISION: tuple[str, Mapping[str, Shape]] = (
    "A flight revised in the air, of `navlog revise --format json`. Fuel is in `fuel_unit`.",
    {
        "computation": "=revise",
        "flight": "text",
        "at": {"point": "@point", "time": "moment UTC", "leg": "whole the leg that ends there"},
        "fuel_unit": "text",
        "fuel_on_board": "number? in `fuel_unit`",
        "fuel_read": "yes whether it was read in flight, else by the planned burn",
        "after_refuelling": "yes? whether it is after tanks are filled there, else on landing; null where none are",
        "warnings": "[text]",
        "flown": "[@part_flown]",
        "wind": "@wind_found?",
        "notices_changed": "[@notice_ahead] those that count ahead otherwise than in the plan",
        "legs": "[@leg] the legs ahead",
        "planned_eta": "[moment?] the planned time at the end of each leg ahead",
        "reserve": "number? in `fuel_unit`",
        "reserve_min": "number?",
        "reserve_rule": "text?",
        "remaining": "number? left at the end, in `fuel_unit`",
        "reserve_holds": "yes? at the measured burn too; null where it is not known",
        "measured": "@measured_ahead?",
        "with_reading_alone": "@unfilled_ahead? should a reading on landing be all after refuelling",
        "alternates": "[@alternate_ahead]",
        "fields": "[@field]",
    },
)
