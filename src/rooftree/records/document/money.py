"""Bills, tariff, measures and decisions in the job file."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal, TypeAlias

from pydantic import Field, StrictBool
from pydantic_core import core_schema

from rooftree.bills.tariff import Bill, Tariff
from rooftree.errors import UnitError
from rooftree.house import Fuel
from rooftree.job import Decision
from rooftree.records.document import fields as f
from rooftree.records.document.fields import refusal
from rooftree.records.document.part import Date, Id, Part, built
from rooftree.units import Kind, parse, parse_any

if TYPE_CHECKING:
    from collections.abc import Mapping

    from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
    from pydantic.json_schema import JsonSchemaValue

    from rooftree.plan.measures import Setting
    from rooftree.plan.model import Measure


class BillDocument(Part):
    """One bill of one fuel."""

    fuel: Fuel
    start: Date
    end: Date
    energy: f.Energy
    cost: f.SignedMoney | None = None
    estimated: StrictBool | None = None

    def to_core(self) -> Bill:
        """Return the bill."""
        return built(Bill, self, fuel=str(self.fuel))


class TariffDocument(Part):
    """What energy costs and what it emits, by fuel."""

    price: dict[Fuel, f.EnergyPrice]
    standing_charge: dict[Fuel, f.MoneyRate] = Field(default_factory=dict)
    emission: dict[Fuel, f.Emission]
    source: str

    def to_core(self) -> Tariff:
        """Return the tariff."""
        return Tariff(
            {str(fuel): one.value for fuel, one in self.price.items()},
            {str(fuel): one.value for fuel, one in self.standing_charge.items()},
            {str(fuel): one.value for fuel, one in self.emission.items()},
            self.source,
        )


class _SettingField:
    """A setting of a measure: a word, a quantity with its unit, or a pure number."""

    def __get_pydantic_core_schema__(
        self, source: object, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        return {"anyOf": [{"type": "string"}, {"type": "number"}]}

    def read(self, raw: object) -> str | int | float:
        """Return the setting as typed, or refuse it."""
        if isinstance(raw, bool) or not isinstance(raw, str | int | float):
            raise refusal("is not a setting", 'write a quantity like "1100 cfm", or a word')
        return raw


Typed: TypeAlias = Annotated[str | int | float, _SettingField()]


class MeasureDocument(Part):
    """One improvement that is offered for this house."""

    id: Id
    kind: str
    title: str
    settings: dict[str, Typed] = Field(default_factory=dict)
    cost_low: f.Money
    cost_high: f.Money
    cost_basis: str
    life: f.SomeDuration | None = None
    trade: str = ""
    anyway_cost: f.Money | None = None

    def to_core(self) -> Measure:
        """Return the measure; its settings in SI, life and trade of its kind where not stated."""
        # The plan brings the engine along: a job is listed and shown without either.
        from rooftree.plan.measures import KINDS
        from rooftree.plan.model import Measure

        life = KINDS[self.kind].life if self.life is None else self.life.value / f.YEAR
        return built(
            Measure,
            self,
            settings={
                name: setting_value(self.kind, name, typed) for name, typed in self.settings.items()
            },
            life=life,
            trade=self.trade or KINDS[self.kind].trade,
        )


def settings_of(kind: str) -> Mapping[str, Setting] | None:
    """Return the settings that a kind of measure takes, by name; None for an unknown kind.

    Parameters
    ----------
    kind : str
        Key of ``rooftree.plan.measures.KINDS``.

    Returns
    -------
    mapping from str to Setting, or None
    """
    from rooftree.plan.measures import KINDS

    return KINDS[kind].settings if kind in KINDS else None


def setting_value(kind: str, name: str, typed: str | float) -> float | str:
    """Return a setting as the plan takes it: a number in the unit of the core, or a word.

    Parameters
    ----------
    kind : str
        Kind of measure, which says what its settings are; a setting that it does not
        know is read as whatever quantity it states, else as a word.
    name : str
        Of the setting.
    typed : str or float
        As it stands in the file; a float is a pure number [-].

    Returns
    -------
    float or str
        Number in the unit of the core, or the word.

    Raises
    ------
    UnitError
        If the setting asks for a quantity and the text is none of that kind.
    """
    taken = (settings_of(kind) or {}).get(name)
    if taken is None:
        return _any_value(typed)
    if taken.unit is None:
        return str(typed)
    return parse(typed if isinstance(typed, str) else repr(typed), Kind(taken.unit))


def _any_value(typed: str | float) -> float | str:
    if not isinstance(typed, str):
        return float(typed)
    try:
        return parse_any(typed)[0]
    except UnitError:
        return typed


class DecisionDocument(Part):
    """What the owner decided about a measure."""

    measure: Id
    choice: Literal["accepted", "declined", "deferred"]
    reason: str = ""
    date: str = ""

    def to_core(self) -> Decision:
        """Return the decision."""
        return built(Decision, self)
