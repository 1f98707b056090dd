"""A recipe file as people write it; every field is checked where it stands, so that an error names its line."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo, field_validator, model_validator

from stillroom.errors import InputError
from stillroom.model.household import Place
from stillroom.model.process import CannerKind, JarSize
from stillroom.model.recipe import Need, Use
from stillroom.model.work import Attention
from stillroom.quantities.amounts import mass_g
from stillroom.recipes.step_text import read_hold, read_minutes, read_need, read_wait_min
from stillroom.tables import vocabulary
from stillroom.yaml_files import Written


def _food_key(text: Any) -> str:
    try:
        return vocabulary.hear(str(text)).food.key
    except InputError as error:
        raise ValueError(str(error)) from None


def _as_list(value: Any) -> Any:
    return [value] if isinstance(value, str) else value


def _grams(text: str, food: str) -> float:
    try:
        return mass_g(text, food)
    except InputError as error:
        raise ValueError(str(error)) from None


FoodKey = Annotated[str, BeforeValidator(_food_key)]
Minutes = Annotated[tuple[float, float], BeforeValidator(read_minutes)]
WaitMin = Annotated[int, BeforeValidator(read_wait_min)]
Hold = Annotated[tuple[str, float | None], BeforeValidator(read_hold)]
Equipment = Annotated[Need, BeforeValidator(read_need)]


class WrittenIngredient(Written):
    """`food` is one name or a list of which any will do; `kind` says where it has to come from."""

    food: Annotated[tuple[FoodKey, ...], BeforeValidator(_as_list), Field(min_length=1)]
    amount: str
    kind: Annotated[str, Field(pattern="^(main|cupboard|optional)$")] = "cupboard"
    states: tuple[Annotated[str, Field(pattern="^(fresh|jarred|frozen|dried)$")], ...] = ("fresh",)
    preparation: str = ""

    @field_validator("amount")
    @classmethod
    def _can_be_weighed(cls, text: str, info: ValidationInfo) -> str:
        if "food" in info.data:
            _grams(text, info.data["food"][0])
        return text

    @property
    def mass_g(self) -> float:
        """Grams per unit, by the first food named."""
        return _grams(self.amount, self.food[0])


class WrittenAfter(Written):
    """A wait between two steps, which always has an end."""

    step: str
    wait: WaitMin = 0
    at_most: Annotated[WaitMin, Field(alias="at most")]
    hold: Hold = ("", None)
    why: str = ""

    @model_validator(mode="after")
    def _ends(self) -> WrittenAfter:
        if self.at_most < self.wait:
            raise ValueError("“at most” is shorter than “wait”")
        return self


class WrittenStep(Written):
    """One task."""

    key: Annotated[str, Field(pattern="^[a-z][a-z0-9 ]*$")]
    do: str
    minutes: Minutes
    attention: Attention
    needs: tuple[Equipment, ...] = ()
    after: tuple[WrittenAfter, ...] = ()
    day: Annotated[int, Field(ge=-3, le=0)] = 0
    child: bool = False
    canner_cycle: Annotated[bool, Field(alias="canner cycle")] = False
    each_load: Annotated[bool, Field(alias="each load")] = False


class WrittenProduct(Written):
    """What one unit yields."""

    name: str
    container: Annotated[str, Field(pattern="^(jar|freezer pack|dry jar|crock|tub|loaf|plate|piece)$")]
    place: Place
    amount: str
    keeps_days: Annotated[int, Field(alias="keeps days", ge=0, le=1100)]
    source: str
    food: FoodKey | None = None
    litres_per_kg: Annotated[float, Field(alias="litres per kg", gt=0)] = 1.0
    portions: Annotated[float, Field(ge=0)] = 0.0
    meal: Annotated[str, Field(pattern="^(main|side|bread|sweet)$")] | None = None
    ready_day: Annotated[int, Field(alias="ready day", ge=0, le=400)] = 0

    @field_validator("amount")
    @classmethod
    def _is_a_mass(cls, text: str) -> str:
        _grams(text, "water")
        return text

    @model_validator(mode="after")
    def _portions_belong_to_a_meal(self) -> WrittenProduct:
        if (self.portions > 0) != (self.meal is not None):
            raise ValueError("“portions” and “meal” go together")
        return self

    @property
    def mass_g(self) -> float:
        """Grams per unit."""
        return _grams(self.amount, "water")


class WrittenProcess(Written):
    """What the recipe asks of the process tables."""

    food: str
    form: str
    pack: Annotated[str, Field(pattern="^(raw|hot)$")]
    canners: Annotated[tuple[CannerKind, ...], Field(min_length=1)]
    jars: Annotated[tuple[JarSize, ...], Field(min_length=1)]
    per_quart: Annotated[str, Field(alias="per quart")]
    source: str

    @field_validator("per_quart")
    @classmethod
    def _is_a_mass(cls, text: str) -> str:
        _grams(text, "water")
        return text

    @property
    def raw_g_per_quart(self) -> float:
        """Grams of main food, as it arrives, that fill one quart."""
        return _grams(self.per_quart, "water")


class WrittenBatch(Written):
    """How many units one run may be, and why."""

    smallest: Annotated[float, Field(gt=0)]
    largest: Annotated[float, Field(gt=0)]
    because: str

    @model_validator(mode="after")
    def _in_order(self) -> WrittenBatch:
        if self.largest < self.smallest:
            raise ValueError("“largest” is below “smallest”")
        return self


class WrittenRecipe(Written):
    """The whole file."""

    name: str
    use: Use
    summary: str
    unit: str
    batch: WrittenBatch
    ingredients: Annotated[tuple[WrittenIngredient, ...], Field(min_length=1)]
    process: WrittenProcess | None = None
    steps: Annotated[tuple[WrittenStep, ...], Field(min_length=1)]
    products: Annotated[tuple[WrittenProduct, ...], Field(min_length=1)]
    cautions: tuple[str, ...] = ()
    source: str = ""
