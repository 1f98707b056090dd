"""A plan of up to 14 days: what becomes what and why, process cards, what to have ready, the days by the clock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from stillroom.model.household import LarderLot, Place
from stillroom.model.process import ProcessCard, ProcessRefusal
from stillroom.model.recipe import Use
from stillroom.model.wish import WishAnswer
from stillroom.model.work import Attention


@dataclass(frozen=True, slots=True)
class TakenFood:
    """Food that a run uses up, and where it comes from (an arrival, a lot in store, another run)."""

    food: str
    mass_g: float
    origin: str


@dataclass(frozen=True, slots=True)
class Made:
    """What a run yields."""

    name: str
    container: str
    place: Place
    mass_g: float
    count: int | None  # jars; None where it is packed as one likes
    ready_on: date
    best_by: date | None
    portions: float = 0.0


@dataclass(frozen=True, slots=True)
class Weighed:
    """One line of a recipe, scaled to one batch and rounded for the scales."""

    what: str
    mass_g: float
    preparation: str
    is_optional: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """What to weigh for a batch; `count` batches are alike."""

    count: int
    units: float
    jars: int
    weighed: tuple[Weighed, ...]


LEAST_WORTH = 0.005  # in the currency of worth: what rounds to nothing


@dataclass(frozen=True, slots=True)
class NextBest:
    """What the food of a decision would have become otherwise, everything else in the plan staying as it is.

    `what` is empty where nothing was found that the clock holds. `worse_by`: by how much the plan would be worth less
    [currency of worth]; None where no sum can be told. `needs`: what stands in the way of it or of something better.
    """

    what: str
    worse_by: float | None
    needs: tuple[str, ...] = ()

    @property
    def words(self) -> str:
        """One sentence, without its end."""
        told = f"{self.what}, {worth_words(self.worse_by)}" if self.worse_by is not None else self.what
        return "; ".join(words for words in (told, *self.needs) if words)


def worth_words(worse_by: float) -> str:
    """How the worth of something else compares, to the cent."""
    if abs(worse_by) < LEAST_WORTH:
        return "worth as much"
    return f"worth {abs(worse_by):.2f} {'less' if worse_by > 0 else 'more'}"


@dataclass(frozen=True, slots=True)
class PlannedRun:
    """One recipe done on one day."""

    key: str
    recipe: str
    name: str
    use: Use
    day: date
    units: float
    unit: str
    taken: tuple[TakenFood, ...]
    made: tuple[Made, ...]
    sheets: tuple[Sheet, ...]
    cautions: tuple[str, ...]
    reasons: tuple[str, ...]
    card: ProcessCard | None = None
    jar: str = ""
    jars: int = 0
    loads: int = 0
    jars_per_load: int = 0
    canner: str = ""
    acid_per_jar: tuple[str, ...] = ()  # each line alone is enough; a jar takes that of the size it counts as
    lemon_juice_g: float = 0.0  # bottled, for all jars of the run, when the first of these is taken
    advice: tuple[str, ...] = ()  # how to cool, freeze, thaw, keep hot, dry or let rise what it handles, by models
    next_best: NextBest | None = None  # None: the plan was made without explanations


@dataclass(frozen=True, slots=True)
class PlannedTask:
    """One task by the clock; `person` is set where hands are needed, `run` is empty for washing up."""

    start: datetime
    end: datetime
    text: str
    run: str
    attention: Attention
    person: str | None
    equipment: tuple[str, ...]
    must_follow: str = ""  # a safety clock that starts or ends here, in words
    key: str = ""  # the task of the timetable
    recipe_min: int | None = None  # by the recipe, where the household's own pace is another


@dataclass(frozen=True, slots=True)
class PlannedMeal:
    """A meal and what is on the plate; `ready` is when the last dish is done."""

    name: str
    at: datetime
    portions: float
    dishes: tuple[str, ...]
    missing: tuple[str, ...]
    ready: datetime | None
    runs: tuple[str, ...] = ()  # that make the dishes
    chance: float | None = None  # of being on time (within ten minutes) on a simulated day; None: nothing is due then

    @property
    def is_on_time(self) -> bool:
        """Every wanted role is there, and done by the hour."""
        return not self.missing and self.ready is not None and self.ready <= self.at


@dataclass(frozen=True, slots=True)
class Wanted:
    """Something to have ready: needed over the plan, in the house, to get."""

    what: str
    needed: float
    in_house: float | None  # None: not counted in the kitchen file
    unit: str

    @property
    def to_get(self) -> float:
        """What is missing; all of it where the house has not counted."""
        return max(0.0, self.needed - (self.in_house or 0.0))


@dataclass(frozen=True, slots=True)
class Left:
    """Part of an arrival that no run takes: kept for later, or lost."""

    food: str
    mass_g: float
    origin: str
    is_lost: bool
    reason: str
    is_given_away: bool = False
    next_best: NextBest | None = None


@dataclass(frozen=True, slots=True)
class NotDone:
    """Something that the days can't take: `what` comes of it, `wish` is the run that would have helped.

    `origin` is the lot that is left over or the meal. `rules` can't all be kept; each of `ways_out` is proved, with its
    price. None of them gives up anything of safety.
    """

    origin: str
    what: str
    wish: str
    sentence: str
    rules: tuple[str, ...]
    ways_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RefusedJar:
    """A jar, food and canner that the plan would have liked and may not use."""

    recipe: str
    jar: str
    canner: str
    refusal: ProcessRefusal


@dataclass(frozen=True, slots=True)
class FreezerAfter:
    """Litres: what it holds, what was in it, what comes in, what goes out."""

    capacity_l: float
    plannable_l: float
    before_l: float
    added_l: float
    freed_l: float

    @property
    def after_l(self) -> float:
        """Litres used at the end."""
        return self.before_l + self.added_l - self.freed_l


@dataclass(frozen=True, slots=True)
class Bottleneck:
    """A capacity and how full it is."""

    what: str
    day: date | None
    used: float
    offered: float
    unit: str


@dataclass(frozen=True, slots=True)
class Effort:
    """How the plan was found; seconds are counted by the work done in them."""

    seconds: float
    split_seconds: float
    timetable_seconds: float
    rounds: int
    timetable_outcome: str
    gap: float


@dataclass(frozen=True, slots=True)
class Clock:
    """A safety clock of the timetable, in words, and the share of simulated days on which it is kept."""

    words: str
    kept: float


@dataclass(frozen=True, slots=True)
class LaterEvening:
    """Minutes by which the slack makes a day's work end later (negative: sooner)."""

    day: date
    later_min: int


@dataclass(frozen=True, slots=True)
class Sureness:
    """How the timetable fares on simulated days, and what its slack costs."""

    days: int
    meals: float  # share of all meals that are on time
    clocks: float  # share of all safety clocks that are kept
    is_enough: bool
    weakest: tuple[Clock, ...]
    slack: float  # times the usual slack
    evenings: tuple[LaterEvening, ...]
    left_out: tuple[str, ...]  # runs that fitted with the usual slack, and not with what was added to it


@dataclass(frozen=True, slots=True)
class Plan:
    """The whole answer."""

    household: str
    invented: bool
    start: date
    days: int
    runs: tuple[PlannedRun, ...]
    tasks: tuple[PlannedTask, ...]
    meals: tuple[PlannedMeal, ...]
    ready: tuple[Wanted, ...]
    left: tuple[Left, ...]
    refused: tuple[RefusedJar, ...]
    larder: tuple[LarderLot, ...]
    freezer: FreezerAfter
    bottlenecks: tuple[Bottleneck, ...]
    did_not_fit: tuple[str, ...]  # runs that were wanted and for which no room was found in the time, in words
    warnings: tuple[str, ...]
    sureness: Sureness
    effort: Effort
    not_done: tuple[NotDone, ...] = ()
    wishes: tuple[WishAnswer, ...] = ()
