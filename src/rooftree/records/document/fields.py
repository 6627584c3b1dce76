"""Quantity fields: text with a unit in the file, a number in SI for the core."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any, TypeAlias

from pydantic import AfterValidator
from pydantic_core import PydanticCustomError, core_schema

from rooftree.errors import UnitError
from rooftree.known import How, Known
from rooftree.records.document.magnitudes import COLDEST, SMALLEST, greatest
from rooftree.units import (
    DIMENSIONLESS,
    DisplaySystem,
    Kind,
    allowed_units,
    parse,
    quantity,
    show,
)

if TYPE_CHECKING:
    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic.json_schema import JsonSchemaValue

HOURS_OF_DAY = 24

YEAR = 365.0 * 86400.0
"""Seconds in a year, as `parse` reads one [s]."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity of a job file.

    Attributes
    ----------
    typed : str, int or float
        As it stands in the file.
    value : float
        In the unit of the core.
    known : Known or None
        How it is known, where the file says so.
    kind : Kind
        What it measures.
    """

    typed: str | int | float
    value: float
    known: Known | None = None
    kind: Kind = Kind.RATIO


@dataclass(frozen=True, slots=True)
class QuantityField:
    """What a quantity field takes: the marker that pydantic reads.

    Attributes
    ----------
    kind : Kind
        What it measures.
    above, least, most : float or None
        It must be more than `above`, at least `least`, at most `most`, in the unit of
        the core; None where there is no such limit.
    """

    kind: Kind
    above: float | None = None
    least: float | None = None
    most: float | None = None

    def read(self, raw: object) -> Quantity:
        """Return the quantity that stands in the file, or refuse it with a remedy."""
        if isinstance(raw, Quantity):
            return raw
        if isinstance(raw, dict):
            return self._read_object(raw)
        return Quantity(_plain(raw), self._read_value(raw), None, self.kind)

    def _read_object(self, raw: dict[str, Any]) -> Quantity:
        if odd := sorted(set(raw) - {"value", "known", "note"}):
            raise refusal(f'has the unknown field "{odd[0]}"', "use value, known and note only")
        if "value" not in raw:
            raise refusal(
                "has no value",
                'add "value"; a value that was not seen is assumed and says so in "known"',
            )
        ways = [str(how) for how in How]
        how, note = raw.get("known", "assumed"), raw.get("note", "")
        if how not in ways:
            raise refusal(f'has "known": {how!r}', f"use one of: {', '.join(ways)}")
        if not isinstance(note, str):
            raise refusal("has a note that is not text", "write the note in quotes")
        value = raw["value"]
        return Quantity(_plain(value), self._read_value(value), Known(How(how), note), self.kind)

    def _read_value(self, raw: object) -> float:
        if isinstance(raw, str):
            try:
                value = parse(raw, self.kind)
            except UnitError as error:
                raise refusal(error.says, error.remedy) from None
        elif isinstance(raw, bool) or not isinstance(raw, int | float):
            raise refusal(f"is {_named(raw)}, not a quantity", f"write it like {self._example()}")
        elif self.kind not in DIMENSIONLESS:
            raise refusal(
                f"is the bare number {raw}",
                f"write it with its unit, like {self._example()}; units for {self.kind.value}: "
                f"{', '.join(allowed_units(self.kind))}",
            )
        else:
            value = self._pure(float(raw))
        return self._within(value, raw)

    def _pure(self, value: float) -> float:
        if not math.isfinite(value):
            raise refusal(f"is {value}", "write a number; leave out what was not measured")
        if self.kind is Kind.COUNT and value != int(value):
            raise refusal(f"is {value}", "write a whole number")
        return value

    def _within(self, value: float, raw: object) -> float:
        self._be_of_this_world(value, raw)
        if self.above is not None and not value > self.above:
            raise refusal(f"is {raw}", f"it must be more than {self._limit(self.above)}")
        if self.least is not None and value < self.least - 1e-12 * abs(self.least):
            raise refusal(f"is {raw}", f"it must be at least {self._limit(self.least)}")
        if self.most is not None and value > self.most + 1e-12 * abs(self.most):
            raise refusal(f"is {raw}", f"it must be at most {self._limit(self.most)}")
        # Rounding of units may leave a limit by the last digit; it is meant.
        low = -math.inf if self.least is None else self.least
        return min(max(value, low), math.inf if self.most is None else self.most)

    def _be_of_this_world(self, value: float, raw: object) -> None:
        most = greatest(self.kind)
        if self.kind is Kind.TEMPERATURE and value < COLDEST:
            raise refusal(
                f"is {raw}, colder than it ever was on earth",
                "check the number, its sign and its unit",
            )
        if abs(value) > most:
            raise refusal(
                f"is {raw}, more than any house or instrument reaches",
                "check the number and its unit; the most is "
                f"{show(most, self.kind, DisplaySystem.SI)} either way",
            )
        if 0.0 < abs(value) < SMALLEST:
            raise refusal(f"is {raw}, less than any instrument tells from zero", "write 0")

    def _limit(self, limit: float) -> str:
        if self.kind in (Kind.ANGLE, Kind.AZIMUTH):
            return f"{limit:g}°"
        if self.kind is Kind.TEMPERATURE:
            return " or ".join(show(limit, self.kind, system) for system in DisplaySystem)
        return quantity(limit, self.kind, "%") if self.kind is Kind.FRACTION else f"{limit:g}"

    def _example(self) -> str:
        units = allowed_units(self.kind)
        return f'"12 {units[0]}"' if units else "4"

    def write(self, field: Quantity) -> object:
        """Return a quantity as it stands in the file."""
        if field.known is None:
            return field.typed
        note = {"note": field.known.note} if field.known.note else {}
        return {"value": field.typed, "known": str(field.known.how)} | note

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read, serialization=core_schema.plain_serializer_function_ser_schema(self.write)
        )

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return self.json_schema()

    def json_schema(self) -> JsonSchemaValue:
        """Return the JSON Schema of the field."""
        names = ", ".join(allowed_units(self.kind))
        text: dict[str, Any] = {"type": "string", "minLength": 1}
        value = {"anyOf": [text, {"type": "number"}]} if self.kind in DIMENSIONLESS else text
        return {
            "title": self.kind.value,
            "description": f"Number with its unit: {names}." if names else "Whole number.",
            "anyOf": [
                *value.get("anyOf", [value]),
                {
                    "type": "object",
                    "properties": {
                        "value": value,
                        "known": {"enum": [str(how) for how in How]},
                        "note": {"type": "string"},
                    },
                    "required": ["value"],
                    "additionalProperties": False,
                },
            ],
        }


@dataclass(frozen=True, slots=True)
class DayField:
    """A quantity for every hour of the day: one for all, or a list of 24.

    Attributes
    ----------
    hour : QuantityField
        What each hour takes.
    """

    hour: QuantityField

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        hours = core_schema.tuple_variable_schema(
            self.hour.__get_pydantic_core_schema__(source, handler)
        )
        return core_schema.no_info_after_validator_function(
            _whole_day,
            core_schema.no_info_before_validator_function(_in_a_list, hours),
            serialization=core_schema.plain_serializer_function_ser_schema(self.write),
        )

    def write(self, day: tuple[Quantity, ...]) -> object:
        """Return a day as it stands in the file."""
        hours = [self.hour.write(hour) for hour in day]
        return hours[0] if len(hours) == 1 else hours

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        hour = self.hour.json_schema()
        day = {"type": "array", "items": hour, "minItems": HOURS_OF_DAY, "maxItems": HOURS_OF_DAY}
        return {"anyOf": [hour, day]}


def _in_a_list(raw: object) -> object:
    return raw if isinstance(raw, list | tuple) else [raw]


def _whole_day(hours: tuple[Quantity, ...]) -> tuple[Quantity, ...]:
    if len(hours) not in (1, HOURS_OF_DAY):
        raise refusal(
            f"has {len(hours)} hours", "write one quantity for the whole day, or 24 of them"
        )
    return hours


def hours_of(day: tuple[Quantity, ...]) -> tuple[float, ...]:
    """Return the 24 values of a day, in the unit of the core."""
    values = tuple(hour.value for hour in day)
    return values * HOURS_OF_DAY if len(values) == 1 else values


def over_mean(day: tuple[Quantity, ...]) -> tuple[float, ...]:
    """Return the 24 values of a day over their mean [-]."""
    values = hours_of(day)
    mean = sum(values) / HOURS_OF_DAY
    return tuple(value / mean for value in values)


def _some_hour(day: tuple[Quantity, ...]) -> tuple[Quantity, ...]:
    if not any(hour.value for hour in day):
        raise refusal("is 0 in every hour", "state at least one hour above 0, or leave it out")
    return day


def _plain(raw: object) -> str | int | float:
    return raw if isinstance(raw, str | int | float) else str(raw)


def _named(raw: object) -> str:
    names = {type(None): "null", bool: "true or false", list: "a list", dict: "an object"}
    return names.get(type(raw), type(raw).__name__)


def refusal(says: str, remedy: str) -> PydanticCustomError:
    """Return the error for a field of a job file: what is wrong, and what to do."""
    context = {"says": says, "remedy": remedy}
    return PydanticCustomError("quantity", "{says}; {remedy}", context)


AirFlow: TypeAlias = Annotated[Quantity, QuantityField(Kind.FLOW, least=0.0)]
SignedFlow: TypeAlias = Annotated[Quantity, QuantityField(Kind.FLOW)]
Pressure: TypeAlias = Annotated[Quantity, QuantityField(Kind.PRESSURE)]
StaticPressure: TypeAlias = Annotated[Quantity, QuantityField(Kind.STATIC_PRESSURE)]
SomePressure: TypeAlias = Annotated[Quantity, QuantityField(Kind.PRESSURE, above=0.0)]
PressureUncertainty: TypeAlias = Annotated[Quantity, QuantityField(Kind.PRESSURE, least=0.0)]
Level: TypeAlias = Annotated[Quantity, QuantityField(Kind.LENGTH)]
Length: TypeAlias = Annotated[Quantity, QuantityField(Kind.LENGTH, least=0.0)]
SomeLength: TypeAlias = Annotated[Quantity, QuantityField(Kind.LENGTH, above=0.0)]
Thickness: TypeAlias = Annotated[Quantity, QuantityField(Kind.THICKNESS, above=0.0)]
Depth: TypeAlias = Annotated[Quantity, QuantityField(Kind.THICKNESS, least=0.0)]
Gap: TypeAlias = Annotated[Quantity, QuantityField(Kind.THICKNESS, least=0.0)]
OpeningArea: TypeAlias = Annotated[Quantity, QuantityField(Kind.LEAKAGE_AREA, least=0.0)]
HoleArea: TypeAlias = Annotated[Quantity, QuantityField(Kind.LEAKAGE_AREA, above=0.0)]
Area: TypeAlias = Annotated[Quantity, QuantityField(Kind.AREA, least=0.0)]
SomeArea: TypeAlias = Annotated[Quantity, QuantityField(Kind.AREA, above=0.0)]
SomeAirChanges: TypeAlias = Annotated[Quantity, QuantityField(Kind.AIR_CHANGES, above=0.0)]
SomeVolume: TypeAlias = Annotated[Quantity, QuantityField(Kind.VOLUME, above=0.0)]
Temperature: TypeAlias = Annotated[Quantity, QuantityField(Kind.TEMPERATURE)]
GasTemperature: TypeAlias = Annotated[
    Quantity, QuantityField(Kind.TEMPERATURE, least=273.15, most=1500.0)
]
WaterTemperature: TypeAlias = Annotated[
    Quantity, QuantityField(Kind.TEMPERATURE, least=283.15, most=373.15)
]
TemperatureStep: TypeAlias = Annotated[
    Quantity, QuantityField(Kind.TEMPERATURE_DIFFERENCE, least=0.0)
]
Divisor: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, least=1.0)]
Buffering: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, least=1.0, most=1000.0)]
CurveCoefficient: TypeAlias = Annotated[
    Quantity, QuantityField(Kind.RATIO, least=-100.0, most=100.0)
]
Resistance: TypeAlias = Annotated[Quantity, QuantityField(Kind.THERMAL_RESISTANCE, above=0.0)]
AnyResistance: TypeAlias = Annotated[Quantity, QuantityField(Kind.THERMAL_RESISTANCE, least=0.0)]
Conductivity: TypeAlias = Annotated[Quantity, QuantityField(Kind.CONDUCTIVITY, above=0.0)]
UValue: TypeAlias = Annotated[Quantity, QuantityField(Kind.U_VALUE, above=0.0)]
Density: TypeAlias = Annotated[Quantity, QuantityField(Kind.DENSITY, least=0.0)]
SomeDensity: TypeAlias = Annotated[Quantity, QuantityField(Kind.DENSITY, above=0.0)]
SpecificHeat: TypeAlias = Annotated[Quantity, QuantityField(Kind.SPECIFIC_HEAT, least=0.0)]
HeatCapacity: TypeAlias = Annotated[Quantity, QuantityField(Kind.HEAT_CAPACITY, least=0.0)]
HeatFlow: TypeAlias = Annotated[Quantity, QuantityField(Kind.POWER, least=0.0)]
SomeHeatFlow: TypeAlias = Annotated[Quantity, QuantityField(Kind.POWER, above=0.0)]
SomeCooling: TypeAlias = Annotated[Quantity, QuantityField(Kind.COOLING_CAPACITY, above=0.0)]
ElectricPower: TypeAlias = Annotated[Quantity, QuantityField(Kind.ELECTRIC_POWER, least=0.0)]
VaporFlow: TypeAlias = Annotated[Quantity, QuantityField(Kind.VAPOR_FLOW, least=0.0)]
SomeVaporFlow: TypeAlias = Annotated[Quantity, QuantityField(Kind.VAPOR_FLOW, above=0.0)]
DryingEfficiency: TypeAlias = Annotated[Quantity, QuantityField(Kind.DRYING_EFFICIENCY, above=0.0)]
LeakageCoefficient: TypeAlias = Annotated[
    Quantity, QuantityField(Kind.LEAKAGE_COEFFICIENT, least=0.0)
]
Exponent: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, least=0.5, most=1.0)]
ExponentUncertainty: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, least=0.0, most=0.5)]
FanExponent: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, above=0.0, most=2.0)]
Share: TypeAlias = Annotated[Quantity, QuantityField(Kind.FRACTION, least=0.0, most=1.0)]
RelativeUncertainty: TypeAlias = Annotated[Quantity, QuantityField(Kind.FRACTION, least=0.0)]
Efficiency: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, above=0.0, most=20.0)]
Count: TypeAlias = Annotated[Quantity, QuantityField(Kind.COUNT, least=0.0)]
Heads: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, least=0.0)]
WeatherFactor: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, above=0.0, most=5.0)]
Panes: TypeAlias = Annotated[Quantity, QuantityField(Kind.COUNT, least=1.0, most=3.0)]
Tilt: TypeAlias = Annotated[Quantity, QuantityField(Kind.ANGLE, least=0.0, most=180.0)]
Azimuth: TypeAlias = Annotated[Quantity, QuantityField(Kind.AZIMUTH, least=-360.0, most=360.0)]
Latitude: TypeAlias = Annotated[Quantity, QuantityField(Kind.ANGLE, least=-90.0, most=90.0)]
Longitude: TypeAlias = Annotated[Quantity, QuantityField(Kind.ANGLE, least=-180.0, most=180.0)]
WindSpeed: TypeAlias = Annotated[Quantity, QuantityField(Kind.SPEED, least=0.0)]
DuctSpeed: TypeAlias = Annotated[Quantity, QuantityField(Kind.DUCT_SPEED)]
Discharge: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, above=0.0, most=1.0)]
Concentration: TypeAlias = Annotated[Quantity, QuantityField(Kind.CONCENTRATION, least=0.0)]
SignedConcentration: TypeAlias = Annotated[Quantity, QuantityField(Kind.CONCENTRATION)]
Duration: TypeAlias = Annotated[Quantity, QuantityField(Kind.DURATION, least=0.0)]
Moment: TypeAlias = Annotated[Quantity, QuantityField(Kind.DURATION)]
SomeDuration: TypeAlias = Annotated[Quantity, QuantityField(Kind.DURATION, above=0.0)]
Energy: TypeAlias = Annotated[Quantity, QuantityField(Kind.ENERGY, least=0.0)]
Money: TypeAlias = Annotated[Quantity, QuantityField(Kind.MONEY, least=0.0)]
SignedMoney: TypeAlias = Annotated[Quantity, QuantityField(Kind.MONEY)]
LaborRate: TypeAlias = Annotated[Quantity, QuantityField(Kind.LABOR_RATE, least=0.0)]
MoneyRate: TypeAlias = Annotated[Quantity, QuantityField(Kind.MONEY_RATE, least=0.0)]
EnergyPrice: TypeAlias = Annotated[Quantity, QuantityField(Kind.FUEL_PRICE, least=0.0)]
Emission: TypeAlias = Annotated[Quantity, QuantityField(Kind.EMISSION, least=0.0)]
Humidity: TypeAlias = Annotated[Quantity, QuantityField(Kind.FRACTION, least=0.0, most=2.0)]
WoodMoisture: TypeAlias = Annotated[Quantity, QuantityField(Kind.FRACTION, least=0.0, most=3.0)]
Emissivity: TypeAlias = Annotated[Quantity, QuantityField(Kind.RATIO, above=0.0, most=1.0)]
Blanket: TypeAlias = Annotated[Quantity, QuantityField(Kind.THERMAL_RESISTANCE, least=0.0)]
DayOfShares: TypeAlias = Annotated[
    tuple[Quantity, ...], DayField(QuantityField(Kind.FRACTION, least=0.0, most=1.0))
]
DayOfTemperatures: TypeAlias = Annotated[
    tuple[Quantity, ...], DayField(QuantityField(Kind.TEMPERATURE))
]
DayOfHeatFlows: TypeAlias = Annotated[
    tuple[Quantity, ...], DayField(QuantityField(Kind.ELECTRIC_POWER, least=0.0))
]
DayOfWeights: TypeAlias = Annotated[
    tuple[Quantity, ...],
    DayField(QuantityField(Kind.RATIO, least=0.0, most=1000.0)),
    AfterValidator(_some_hour),
]
