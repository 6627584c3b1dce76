"""Gates: which findings hold back which measures, until who has shown what.

The rules are rows of ``gates.csv``. A gate stands while one of its observations is not
cleared; a measure that removes the cause (`Rule.solved_by`) may go first and open it.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Protocol

from rooftree.finding import Finding, Severity
from rooftree.survey.kinds import EVERYTHING, named_kinds
from rooftree.tables.rows import table_rows

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

_WEIGHT = {Severity.NOTE: 0, Severity.GATE: 1, Severity.STOP: 2}


class Observed(Protocol):
    """What the gates need to know of an observation."""

    @property
    def id(self) -> str:
        """Return its id."""

    @property
    def code(self) -> str:
        """Return the code of the rule that it calls on; may be empty."""

    @property
    def severity(self) -> Severity:
        """Return what the observer thinks it demands."""

    @property
    def cleared(self) -> str:
        """Return who cleared it with what evidence; empty while it stands."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One row of the table of gates.

    Attributes
    ----------
    code : str
        Name that observations use, such as ``"bulk-water"``.
    severity : Severity
        What it demands at least.
    title : str
        In a few words.
    blocks : frozenset of str
        Kinds of measure that wait.
    forbids : frozenset of str
        Tests that wait: ``"fan-depressurization"``, ``"fan-pressurization"``,
        ``"burner-test"``.
    solved_by : frozenset of str
        Kinds of measure that open the gate where they remove its cause; empty where
        only a person with evidence can.
    findings : frozenset of str
        Codes of test findings that call on this rule as an observation would.
    why, remedy : str
        The danger in one sentence, and what to do about it.
    who, evidence : str
        Who may clear it, and what must be shown.
    caution : str
        For the people who work near it; may be empty.
    source, basis : str
        Where the rule comes from, and how well we know it: ``"source"`` (read there),
        ``"quoted"`` (read in a document that quotes it), ``"recalled"`` or
        ``"judgement"`` (ours, from the practice of the trade).
    """

    code: str
    severity: Severity
    title: str
    blocks: frozenset[str]
    forbids: frozenset[str]
    solved_by: frozenset[str]
    findings: frozenset[str]
    why: str
    remedy: str
    who: str
    evidence: str
    caution: str
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class Gate:
    """A rule that holds now, with what called on it.

    Attributes
    ----------
    rule : Rule
        The rule.
    severity : Severity
        The graver one of the rule's and the observers'.
    observed : tuple of str
        Ids of the observations and tests that still stand.
    """

    rule: Rule
    severity: Severity
    observed: tuple[str, ...]

    @property
    def code(self) -> str:
        """Return the code of the rule."""
        return self.rule.code

    @property
    def blocks(self) -> frozenset[str]:
        """Return the kinds of measure that wait for it."""
        return self.rule.blocks

    @property
    def solved_by(self) -> frozenset[str]:
        """Return the kinds of measure that may open it."""
        return self.rule.solved_by

    @property
    def says(self) -> str:
        """Return the reason, the remedy and who may clear it, in plain sentences."""
        rule = self.rule
        opened = f"{rule.who} may clear this with: {rule.evidence}."
        return f"{rule.title}. {rule.why} {rule.remedy} {opened}"

    def finding(self) -> Finding:
        """Return the gate as a finding, for pages and papers."""
        return Finding(
            code=f"gate/{self.code or 'stop-without-rule'}",
            severity=self.severity,
            says=self.says,
            source=self.rule.source,
            about=self.observed[0] if self.observed else "",
        )


UNNAMED_STOP = Rule(
    code="",
    severity=Severity.STOP,
    title="A stop that no rule names",
    blocks=named_kinds([EVERYTHING]),
    forbids=frozenset(),
    solved_by=frozenset(),
    findings=frozenset(),
    why="Somebody marked an observation as a stop without saying which rule it falls under.",
    remedy="Give it the code of a rule, or clear it.",
    who="The assessor",
    evidence="what was done about it",
    caution="",
    source="ours: what is not understood is not built upon",
    basis="judgement",
)
"""Rule for a stop whose code is empty or unknown: everything waits."""


@cache
def gate_rules() -> Mapping[str, Rule]:
    """Return every rule by its code."""
    rows = table_rows("rooftree.survey", "gates.csv")
    return MappingProxyType({row["code"]: _rule(row) for row in rows})


def _rule(row: Mapping[str, str]) -> Rule:
    return Rule(
        code=row["code"],
        severity=Severity(row["severity"]),
        title=row["title"],
        blocks=named_kinds(row["blocks"].split()),
        forbids=frozenset(row["forbids"].split()),
        solved_by=named_kinds(row["solved_by"].split()),
        findings=frozenset(row["findings"].split()),
        why=row["why"],
        remedy=row["remedy"],
        who=row["who"],
        evidence=row["evidence"],
        caution=row["caution"],
        source=row["source"],
        basis=row["basis"],
    )


def gates_of(
    observations: Iterable[Observed], findings: Iterable[Finding] = ()
) -> tuple[Gate, ...]:
    """Return the gates that stand.

    Parameters
    ----------
    observations : iterable of Observed
        All observations, cleared ones too.
    findings : iterable of Finding
        Findings of tests; those that a rule names call on it like an observation.
        A note calls on nothing.

    Returns
    -------
    tuple of Gate
        Stops first, then gates, then notes, each in the order of the table.

    Notes
    -----
    An observer may make a rule graver and never lighter: the way past a gate is to
    clear it. A stop without a known code holds everything back.
    """
    called: defaultdict[str, list[tuple[str, Severity]]] = defaultdict(list)
    rules = {**gate_rules(), UNNAMED_STOP.code: UNNAMED_STOP}
    for seen in observations:
        if not seen.cleared.strip():
            code = seen.code if seen.code in rules else ""
            if code or seen.severity is Severity.STOP:
                called[code].append((seen.id, seen.severity))
    for code, finding in _named_findings(findings):
        called[code].append((finding.about, finding.severity))
    gates = [
        Gate(
            rule,
            max((rule.severity, *(grave for _, grave in called[code])), key=_WEIGHT.__getitem__),
            tuple(dict.fromkeys(about for about, _ in called[code])),
        )
        for code, rule in rules.items()
        if code in called
    ]
    return tuple(sorted(gates, key=lambda gate: -_WEIGHT[gate.severity]))


def _named_findings(findings: Iterable[Finding]) -> list[tuple[str, Finding]]:
    return [
        (rule.code, finding)
        for finding in findings
        if finding.severity is not Severity.NOTE
        for rule in gate_rules().values()
        if finding.code in rule.findings
    ]


def standing_gates(gates: Iterable[Gate], done: Collection[str]) -> tuple[Gate, ...]:
    """Return the gates that still stand after some measures.

    Parameters
    ----------
    gates : iterable of Gate
        Gates of the house as found.
    done : collection of str
        Kinds of the measures done before, or in the same stage.

    Returns
    -------
    tuple of Gate
        Those that no done kind solves. Whether the measure as specified really
        removes the cause (a sealed burner, not another natural-draft one) is for the
        caller to check.
    """
    return tuple(gate for gate in gates if gate.solved_by.isdisjoint(done))


def blocked_kinds(
    gates: Iterable[Gate], done: Collection[str] = ()
) -> Mapping[str, tuple[Gate, ...]]:
    """Return what holds back each kind of measure that is held back.

    Parameters
    ----------
    gates : iterable of Gate
        Gates of the house as found.
    done : collection of str
        Kinds of the measures done before, or in the same stage.

    Returns
    -------
    mapping from str to tuple of Gate
        By kind; kinds that nothing holds back are absent.
    """
    blocked: dict[str, list[Gate]] = {}
    for gate in standing_gates(gates, done):
        for kind in sorted(gate.blocks):
            blocked.setdefault(kind, []).append(gate)
    return MappingProxyType({kind: tuple(held) for kind, held in blocked.items()})


def forbidden_tests(gates: Iterable[Gate]) -> Mapping[str, tuple[Gate, ...]]:
    """Return what forbids each test that is forbidden.

    Parameters
    ----------
    gates : iterable of Gate
        Gates of the house as found.

    Returns
    -------
    mapping from str to tuple of Gate
        By test, such as ``"fan-depressurization"``; allowed tests are absent.
    """
    forbidden: dict[str, list[Gate]] = {}
    for gate in gates:
        for test in sorted(gate.rule.forbids):
            forbidden.setdefault(test, []).append(gate)
    return MappingProxyType({test: tuple(held) for test, held in forbidden.items()})
