"""What a process look-up takes and returns: jar, canner, printed row, card or refusal."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from stillroom import units


class JarSize(StrEnum):
    """The jar sizes that processes were tested in."""

    HALF_PINT = "half_pint"
    PINT = "pint"
    QUART = "quart"
    HALF_GALLON = "half_gallon"

    @property
    def volume_ml(self) -> float:
        """Brim-full nominal volume [ml]."""
        return {
            JarSize.HALF_PINT: units.ML_PER_CUP,
            JarSize.PINT: units.ML_PER_PINT,
            JarSize.QUART: units.ML_PER_QUART,
            JarSize.HALF_GALLON: units.ML_PER_GALLON / 2,
        }[self]


class CannerKind(StrEnum):
    """How heat is applied and how pressure is told."""

    BOILING_WATER = "boiling water"
    STEAM = "steam"
    DIAL = "dial gauge"
    WEIGHTED = "weighted gauge"

    @property
    def is_pressure(self) -> bool:
        """Whether it works above the boiling point of water."""
        return self in (CannerKind.DIAL, CannerKind.WEIGHTED)


class Evidence(StrEnum):
    """How a printed figure was seen; MEMORY is never offered as tested."""

    TWO_PAGES = "two_pages"
    PAGE = "page"
    MEMORY = "memory"


@dataclass(frozen=True, slots=True)
class ProcessRow:
    """One printed line of a process table, in the printed units.

    `minutes` and `pressure_psi` run over the altitude bands of the table; a pressure row has one time and
    a pressure per band and gauge, a boiling-water row a time per band and no pressure.
    """

    key: str  # "low_acid:12": table and printed line, stable
    food: str  # process food, e.g. "snap beans"
    form: str
    pack: str  # "raw" or "hot"
    jar: JarSize
    minutes: tuple[int, ...]  # pressure: one; boiling water: one per band 0-1000, 1001-3000, 3001-6000, >6000 ft
    dial_psi: tuple[int | None, ...]  # 0-2000, 2001-4000, 4001-6000, 6001-8000 ft; empty for boiling water
    weighted_psi: tuple[int | None, ...]  # 0-1000, above 1000 ft; empty for boiling water
    headspace_in: float
    acidification: str  # as printed; "" for low-acid food
    guide_table: str
    source: str
    url: str
    evidence: Evidence
    note: str

    @property
    def is_pressure(self) -> bool:
        """Whether this line is for a pressure canner."""
        return bool(self.dial_psi or self.weighted_psi)


@dataclass(frozen=True, slots=True)
class ProcessCard:
    """A tested process for one canner load: what to do, and where it is printed."""

    food: str
    form: str
    pack: str
    jar_asked: str  # as the cook named it
    jar_counted_as: JarSize
    canner: CannerKind
    altitude_m: float
    minutes: int
    pressure_psi: float | None  # what this gauge must show, its recorded error included; None without pressure
    pressure_psi_printed: int | None
    headspace_in: float
    acidification: str
    sterilise_jars: bool
    row: ProcessRow
    choices: tuple[tuple[int, int], ...] = ()  # other full processes for the same jar: (minutes, psi)
    steps: tuple[str, ...] = ()  # before packing and canner procedure, in our words
    warnings: tuple[str, ...] = ()  # added caution; never shortens anything

    @property
    def pressure_kpa(self) -> float | None:
        """Gauge pressure to hold [kPa]."""
        return None if self.pressure_psi is None else units.kpa(self.pressure_psi)


@dataclass(frozen=True, slots=True)
class Alternative:
    """A verified way out: looked up itself before it is shown."""

    what: str  # one sentence for the cook
    card: ProcessCard | None = None  # when the way out is a jar
    source: str = ""


@dataclass(frozen=True, slots=True)
class ProcessRefusal:
    """No tested process: why, what to do instead."""

    food: str
    reason: str  # one or two sentences
    rule: str  # short stable name of the rule, e.g. "no tested row", "jar too large", "low acid needs pressure"
    alternatives: tuple[Alternative, ...] = ()
    common_practice: str = ""  # what a rule of thumb would give, always marked as untested
    source: str = ""
    details: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ProcessRequest:
    """What a recipe asks of the process tables; jar and altitude come from the kitchen."""

    food: str
    form: str
    pack: str
    canners: tuple[CannerKind, ...]  # kinds the recipe is written for
    jars: tuple[JarSize, ...]  # sizes it may be packed in
    raw_g_per_quart: float  # main food as it arrives that fills one quart; other jars by volume
    raw_source: str
