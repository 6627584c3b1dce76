"""What a simulated year tells of a house: heat, air, damp, comfort, and the odd room."""

from __future__ import annotations

from rooftree.diagnosis.air import AirDiagnosis, AirOrigins, AppliancePressure, SpacePressure
from rooftree.diagnosis.attribution import Attribution, EnergyCause, grouped
from rooftree.diagnosis.comfort import (
    BAND,
    ComfortDiagnosis,
    RoomComfort,
    Votes,
    operative_temperature,
    predicted_votes,
    votes_in_room,
)
from rooftree.diagnosis.damp import DampDiagnosis, DampPlace
from rooftree.diagnosis.front import Diagnosis, diagnose
from rooftree.diagnosis.heat import Cause, HeatPart, HeatSplit
from rooftree.diagnosis.places import Place, Where
from rooftree.diagnosis.rooms import OddRoom, RoomCause, RoomsDiagnosis

__all__ = [
    "BAND",
    "AirDiagnosis",
    "AirOrigins",
    "AppliancePressure",
    "Attribution",
    "Cause",
    "ComfortDiagnosis",
    "DampDiagnosis",
    "DampPlace",
    "Diagnosis",
    "EnergyCause",
    "HeatPart",
    "HeatSplit",
    "OddRoom",
    "Place",
    "RoomCause",
    "RoomComfort",
    "RoomsDiagnosis",
    "SpacePressure",
    "Votes",
    "Where",
    "diagnose",
    "grouped",
    "operative_temperature",
    "predicted_votes",
    "votes_in_room",
]
