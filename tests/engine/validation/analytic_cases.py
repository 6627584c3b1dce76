"""Cases with analytic or exact answers: conduction, storage, air, furnace, slab, weather."""

from __future__ import annotations

from engine.validation.checks import Check, Suite, near

TOOLKIT = "ASHRAE 1052-RP analytical results"
TOOLKIT_READ = "quoted in an NREL validation report"

TC1 = {1: 20.015, 2: 20.635, 4: 25.037, 6: 30.793, 12: 45.160, 24: 60.159, 35: 65.789}
"""Inside face [°C] by hours after the step."""

TC1_OUTSIDE = {1: 53.637, 6: 62.516, 24: 68.168}
"""Outside face [°C] by hours after the step."""

TC2 = {2: (20.497, 13.76), 6: (26.395, 177.03), 12: (31.544, 319.59), 24: (33.967, 386.67)}
"""Inside face [°C] and load [W] by hours after the step."""

ROUNDED = 0.0005

CONDUCTION_CHECKS = (
    near("SSConv", "flux", "W/m²", 40.007, ROUNDED),
    near("SSConv", "inside face", "°C", 23.006, ROUNDED),
    near("SSConv", "outside face", "°C", 27.007, ROUNDED),
    near("SSCond", "flux", "W/m²", 10.054, ROUNDED),
    near("SSCond", "inside face", "°C", 13.269, ROUNDED),
    near("SSCond", "outside face", "°C", 35.388, ROUNDED),
    *(near("TC1", f"inside face at {h} h", "°C", value, 0.02) for h, value in TC1.items()),
    *(near("TC1", f"outside face at {h} h", "°C", value, 0.1) for h, value in TC1_OUTSIDE.items()),
    *(near("TC2", f"inside face at {h} h", "°C", pair[0], 0.02) for h, pair in TC2.items()),
    *(near("TC2", f"load at {h} h", "W", pair[1], 0.5, 2) for h, pair in TC2.items()),
)
CONDUCTION = Suite(
    "Conduction",
    TOOLKIT,
    TOOLKIT_READ,
    "A cube of 3 m with one active face. Steps of a minute: a minute's mean stands half a minute "
    "behind its end, which is 0.02 K inside, 0.5 W, and 0.1 K outside in the first hour; steady "
    "cases to the last printed digit. The case of infiltration is left out: its temperatures were "
    "not in what we read.",
    CONDUCTION_CHECKS,
)

GAIN_LOADS = {0.0: (453.600, 2700.0), 0.5: (453.069, 2696.7), 1.0: (452.846, 2695.2)}
"""Load [kWh] and peak [W] by the radiant share of the gain."""

GAIN_TOLERANCE = 0.002

GAIN_CHECKS = tuple(
    near(f"{share:.0%} radiant", quantity, unit, value, GAIN_TOLERANCE * value, digits)
    for share, (load, peak) in GAIN_LOADS.items()
    for quantity, unit, value, digits in (
        ("load of 168 h", "kWh", load, 2), ("peak", "W", peak, 1),
    )
)  # fmt: skip
GAINS = Suite(
    "Internal gain",
    TOOLKIT,
    TOOLKIT_READ,
    "An adiabatic cube of wood holds 20 °C while 2700 W are given off. The week is one after many "
    "alike: in the first the wood would store an eighth of radiant heat, which the printed loads "
    "exclude. In the long run all heat must be taken out; why the printed loads miss up to 0.2 % "
    "of radiant heat is not in what we read, so that this is the tolerance: the check shows "
    "that no heat is lost, not how it is stored.",
    GAIN_CHECKS,
)

CUBES = {
    "COND-1": (20.04, 21.26, 23.48, 26.37, 30.00),
    "COND-2": (25.09, 29.63, 30.00, 30.00, 30.00),
    "COND-4": (20.00, 20.06, 20.25, 20.63, 23.17),
}
"""Temperature inside [°C] at 2, 6, 12, 24 and 120 h."""

CUBE_HOURS = (2, 6, 12, 24, 120)
CUBE_CHECKS = tuple(
    near(case, f"temperature at {hour} h", "°C", value, 0.5, 2)
    for case, values in CUBES.items()
    for hour, value in zip(CUBE_HOURS, values, strict=True)
)
CUBE = Suite(
    "Cube of EN ISO 13791",
    "EN ISO 13791, heat conduction through opaque components",
    "quoted in an NREL validation report; films recalled",
    "A cube of 1 m in steps of a minute (in steps of an hour, whose values are means of the hour, "
    "COND-2 has 23.4 °C at 2 h, 1.7 K low; all others agree); 0.5 K is the standard's own "
    "tolerance. The films, 2.5 inside and 8 W/(m²·K) outside, are recalled; with them the "
    "first case agrees.",
    CUBE_CHECKS,
)

EULER = (
    "the heat that furnishings and air hold is stepped by the hour with its flows at the end of "
    "the hour; a time constant of 14 h is drawn out by half an hour"
)
DECAY_CHECK = near("decay", "temperature after 6 h", "°C", 11.2302, 0.05, 2, EULER)
RATIO_CHECK = near("daily swing", "amplitude inside over outside", "-", 0.26517, 0.01, 3, EULER)
LAG_CHECK = near("daily swing", "lag", "h", 4.9748, 0.1, 2)
STORAGE = Suite(
    "Storage in a space",
    "exact solution of one capacity behind one conductance",
    "computed",
    "200 W/K and 10 MJ/K, as capacity of a space behind layers without mass. The temperature of a "
    "space is that of the end of the hour; taken as that of its middle the lag would be 4.54 h.",
    (DECAY_CHECK, RATIO_CHECK, LAG_CHECK),
)

STACK = {
    "shares 0.25, 0.50, 0.25": (0.25, 0.50, 0.25, 0.500, 0.6226),
    "shares 0.15, 0.50, 0.35": (0.15, 0.50, 0.35, 0.6203, 0.4438),
}
"""Shares of floor, walls and ceiling; neutral level over height, inflow through the floor."""

STACK_CHECKS = tuple(
    near(case, quantity, "-", value, 0.003, 4)
    for case, (*_, level, inflow) in STACK.items()
    for quantity, value in (("neutral level", level), ("inflow through the floor", inflow))
)
AIR = Suite(
    "Air by the stack alone",
    "exact integral of the power law over the height, exponent 0.65",
    "computed",
    "The walls' leaks stand at 40 levels, which the integral allows 0.003 for.",
    STACK_CHECKS,
)

HEATER_SOURCE = "ANSI/ASHRAE Standard 140, cases HE100 to HE130"
HEATER_READ = "quoted in an NREL validation report and a public compilation of the solutions"
PART_LOAD = (0.0080472574, 0.87564457, 0.29249943, -0.17624156)
HEATERS = {"HE100": (-30.0, 1.0, 77.74, 77.71), "HE110": (-30.0, 0.8, 77.74, 97.22),
           "HE120": (0.0, 0.8, 31.10, 38.27), "HE130": (20.0, 0.8, 0.0, 0.0)}  # fmt: skip
"""Temperature outdoors [°C], efficiency, load and input [GJ] of January to March."""

HEATER_CHECKS = tuple(
    near(case, quantity, "GJ", value, 0.05, 2)
    for case, (_, _, load, used) in HEATERS.items()
    for quantity, value in (("load", load), ("input", used))
)
FURNACE = Suite(
    "Furnace",
    HEATER_SOURCE,
    HEATER_READ,
    "The load, 200 W/K, is put on by air through a room without other losses, because the films "
    "of the engine are its own. Fans are not part of these cases.",
    HEATER_CHECKS,
)

SLAB_SOURCE = "ANSI/ASHRAE Standard 140, ground-coupled slab"
SLAB_READ = "quoted in an NREL validation report and a public compilation"
DEEP = (
    "the equations of ISO 13370 know no cold ground at 15 m depth; it draws more heat than the "
    "open ground that they were made for"
)
SLAB_CHECKS = (
    Check("GC10a", "heat through the floor", "W", 2425.0, 2432.0, 0,
          "ISO 13370 is a closed form for floors of any shape; in this one it is 3 % above the "
          "analytic solution"),
    Check("GC30a", "heat through the floor", "W", 2585.0, 2695.0, 0, DEEP),
    Check("GC30b", "heat through the floor", "W", 2504.0, 2570.0, 0, DEEP),
)  # fmt: skip
SLAB = Suite(
    "Slab on the ground",
    SLAB_SOURCE,
    SLAB_READ,
    "12 m by 12 m, 20 K between inside and outdoors, soil of 1.9 W/(m·K), walls of 0.24 m. Ranges "
    "are those of three verified numerical solutions.",
    SLAB_CHECKS,
)

DRIVER_SOURCE = "ANSI/ASHRAE Standard 140, weather drivers, example values of the result template"
DRIVER_CHECKS = (
    near("WD100", "mean dry bulb", "°C", 10.875, ROUNDED),
    near("WD100", "mean relative humidity", "%", 49.62, 0.5, 2),
    near("WD100", "mean dew point", "°C", -1.066, ROUNDED),
    near("WD100", "mean humidity ratio", "g/kg", 4.908, 0.03),
    near("WD100", "global horizontal sun", "kWh/m²", 1670.22, 0.005, 2),
    near("WD100", "diffuse horizontal sun", "kWh/m²", 556.451, ROUNDED),
)
DRIVERS = Suite(
    "Weather drivers",
    DRIVER_SOURCE,
    "source",
    "Denver 725650 TMY3. Humidity follows from dew point and pressure, not from the file's own "
    "rounded relative humidity: 0.5 % and 0.03 g/kg are allowed. Sun on tilted planes is in the "
    "suite of the test room.",
    DRIVER_CHECKS,
)
