"""Forms of ducts, machines and fans."""

from __future__ import annotations

from rooftree.web.house.enclosure import day_rows
from rooftree.web.sheets.layout import Field, Group, Rows, Sheet

_CAUTION = (
    "Work on burners, gas, refrigerant and electricity is for licensed trades; local codes decide."
)

DUCT = Sheet(
    kind="duct",
    name="Duct run",
    group="Air handler and ducts",
    says="The part of the ducts that runs through one space. A duct leakage test replaces its "
    "leakage.",
    parts=(
        Group(
            "Run",
            (
                Field("name", "Name"),
                Field("side", "Side"),
                Field("space", "Runs through", among="spaces"),
                Field("area", "Outside area"),
                Field("resistance", "Wrap and films", "such as R-4.2"),
                Field("leakage", "Lost or drawn in", "share of the air handler's flow"),
            ),
        ),
    ),
)

AIR_HANDLER = Sheet(
    kind="air handler",
    name="Air handler",
    group="Air handler and ducts",
    says="The fan that moves heated and cooled air. A test of it replaces its flow.",
    parts=(
        Group(
            "Fan",
            (
                Field("space", "Stands in", among="spaces"),
                Field("flow", "Air flow"),
                Field("power", "Electric power"),
            ),
        ),
    ),
)


def _heating(prefix: str = "", *, seldom: bool = False) -> tuple[Group | Rows, ...]:
    p = prefix
    return (
        Group(
            "What it heats with" if p else "Machine",
            (
                Field(f"{p}kind", "Kind"),
                Field(f"{p}fuel", "Runs on"),
                Field(f"{p}capacity", "Output", "heat pump: at 8.3 °C (47 °F) outdoors"),
                Field(f"{p}efficiency", "Efficiency", "seasonal; COP for a heat pump"),
                Field(f"{p}ducted", "Through the ducts?"),
                Field(f"{p}draft", "Smoke leaves by"),
                *(() if p else (Field("space", "Stands in", among="spaces"),)),
            ),
            says="" if p else _CAUTION,
            is_folded=seldom,
        ),
        Group(
            "More about the heating" if p else "More about it",
            (
                Field(f"{p}speeds", "Speeds", "of a heat pump"),
                Field(f"{p}backup_capacity", "Electric backup", "of a heat pump"),
                Field(f"{p}crankcase", "Crankcase heater", "while it stands and is cold"),
                Field(f"{p}pump_power", "Pump", "of a boiler"),
                Field(f"{p}pilot", "Pilot light", "heat content of its gas"),
            ),
            is_folded=True,
        ),
        Rows(
            f"{p}part_load",
            "Input at part load",
            (Field("", "Coefficient of 1, x, x² …"),),
            each="Coefficient",
            fewest=1,
            says="Input over full input, by the share x of full output. Empty: input in "
            "proportion to output.",
            is_seldom=True,
        ),
    )


def _cooling(prefix: str = "", *, seldom: bool = False) -> tuple[Group, ...]:
    p = prefix
    return (
        Group(
            "What it cools with" if p else "Machine",
            (
                Field(f"{p}kind", "Kind"),
                Field(f"{p}capacity", "Capacity", "at 35 °C (95 °F) outdoors"),
                Field(f"{p}cop", "Cooling per electricity (COP)", "or such as 11 EER; no fan"),
                Field(f"{p}sensible_fraction", "Sensible share", "75 % usual"),
                Field(f"{p}ducted", "Through the ducts?"),
                Field(f"{p}speeds", "Speeds"),
                Field(f"{p}crankcase", "Crankcase heater", "once where it heats too"),
            ),
            says="" if p else _CAUTION,
            is_folded=seldom,
        ),
    )


HEATING = Sheet(
    kind="heating",
    name="Heating",
    group="Heating and cooling",
    says="What heats the living spaces.",
    parts=_heating(),
)

COOLING = Sheet(
    kind="cooling",
    name="Cooling",
    group="Heating and cooling",
    says="What cools the living spaces.",
    parts=_cooling(),
)

ROOM_UNIT = Sheet(
    kind="room unit",
    name="Room unit",
    group="Heating and cooling",
    says="A machine that heats or cools one living space by its own thermostat, without ducts.",
    parts=(
        Group(
            "Place",
            (Field("name", "Name"), Field("space", "Stands in", among="living_spaces")),
            says=_CAUTION,
        ),
        *_heating("heating."),
        *_cooling("cooling."),
        day_rows(
            "heating_setpoint", "Its thermostat, heating", "Temperature",
            "Empty: as the house.", seldom=True,
        ),
        day_rows(
            "cooling_setpoint", "Its thermostat, cooling", "Temperature",
            "Empty: as the house.", seldom=True,
        ),
    ),
)  # fmt: skip

WATER_HEATER = Sheet(
    kind="water heater",
    name="Water heater",
    group="Water and ventilation",
    says="What heats the water.",
    parts=(
        Group(
            "Machine",
            (
                Field("kind", "Kind"),
                Field("fuel", "Runs on"),
                Field("efficiency", "Efficiency", "over a year of ordinary use"),
                Field("space", "Stands in", among="spaces"),
                Field("draft", "Smoke leaves by"),
                Field("standby_loss", "Lost to the space", "at 20 °C (68 °F) there"),
                Field("setpoint", "Temperature of the water", "51.7 °C (125 °F) usual"),
            ),
            says=_CAUTION + " Hot water scalds: local codes limit it at the tap.",
        ),
    ),
)

FAN = Sheet(
    kind="fan",
    name="Fan",
    group="Water and ventilation",
    says="A fan that moves air between a space and outdoors. Flows that were measured replace its "
    "own where the names are the same.",
    parts=(
        Group(
            "Fan",
            (
                Field("name", "Name"),
                Field("kind", "Way"),
                Field("purpose", "Purpose"),
                Field("space", "Serves", among="spaces"),
                Field("flow", "Air flow"),
                Field("power", "Electric power"),
                Field("recovery", "Heat kept", "balanced fans only"),
                Field("latent_recovery", "Water vapor kept", "balanced fans only"),
            ),
        ),
        day_rows(
            "hours", "When it runs", "Share of each hour",
            "The last period lasts until the first begins.",
        ),
    ),
)  # fmt: skip

DEHUMIDIFIER = Sheet(
    kind="dehumidifier",
    name="Dehumidifier",
    group="Water and ventilation",
    says="A machine that dries one space.",
    parts=(
        Group(
            "Machine",
            (
                Field("space", "Stands in", among="spaces"),
                Field("capacity", "Water removed", "at 26.7 °C (80 °F) and 60 %"),
                Field("energy_factor", "Water per energy"),
                Field("setpoint", "Runs above", "relative humidity; 55 % usual"),
            ),
        ),
    ),
)
