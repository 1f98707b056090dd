"""The look-up: the examples of the job, the sizing rule, the altitude edges, the gauge, and each refusal."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from stillroom.errors import InputError, UnknownFood
from stillroom.model.process import CannerKind, JarSize, ProcessCard, ProcessRefusal
from stillroom.process.decide import decide
from stillroom.process.find import find
from stillroom.process.form_choice import AmbiguousRequest
from stillroom.process.gauge import Gauge
from stillroom.process.jar_text import read_jar
from stillroom.process.question import Question
from stillroom.tables.processes import rows_for

M_PER_FT = 0.3048
GROUND_BEEF: dict[str, Any] = {"food": "beef", "form": "ground or chopped", "pack": "hot"}


def ask(food: str = "beef", **parts: Any) -> ProcessCard | ProcessRefusal:
    asked = {"jar": "quart", "canner": CannerKind.DIAL, "altitude_m": 0.0, "form": None, "pack": None} | parts
    return find(food, **asked)


def card(**parts: Any) -> ProcessCard:
    answer = ask(**parts)
    assert isinstance(answer, ProcessCard), answer
    return answer


def refusal(**parts: Any) -> ProcessRefusal:
    answer = ask(**parts)
    assert isinstance(answer, ProcessRefusal), answer
    return answer


def test_ground_beef_at_2500_ft_is_90_minutes_at_12_psi() -> None:
    """Guide 5, ground or chopped meat: quarts 90 min; dial 12 lb at 2,001-4,000 ft."""
    answer = card(**GROUND_BEEF, altitude_m=762)
    assert (answer.minutes, answer.pressure_psi, answer.headspace_in) == (90, 12, 1)
    assert answer.pressure_kpa == pytest.approx(82.74, abs=0.01)
    assert not answer.sterilise_jars
    assert "venison" not in " ".join(answer.steps).lower()


def test_a_jar_of_1200_ml_is_refused_with_its_rule_of_thumb_and_verified_jars() -> None:
    answer = refusal(**GROUND_BEEF, jar="1200ml", altitude_m=762)
    assert answer.rule == "jar too large"
    assert "90 min" in answer.common_practice
    assert "108 min" in answer.common_practice
    assert "No authority has tested" in answer.common_practice
    jars = [(way.card.jar_counted_as, way.card.minutes) for way in answer.alternatives if way.card]
    assert jars == [(JarSize.QUART, 90), (JarSize.PINT, 75)]
    assert any(way.what.startswith("Freeze it") for way in answer.alternatives)


@pytest.mark.parametrize("jar", ["1.3 l", "half gallon"])
def test_the_rule_of_thumb_is_not_told_of_larger_jars_or_acid_food(jar: str) -> None:
    assert refusal(**GROUND_BEEF, jar=jar).common_practice == ""
    peaches = refusal(food="peach", form="halved or sliced", pack="hot", jar="1.1 l", canner=CannerKind.BOILING_WATER)
    assert (peaches.rule, peaches.common_practice) == ("jar too large", "")


@pytest.mark.parametrize("canner", [CannerKind.BOILING_WATER, CannerKind.STEAM])
def test_low_acid_food_never_gets_boiling_water_or_steam(canner: CannerKind) -> None:
    answer = refusal(**GROUND_BEEF, canner=canner)
    assert answer.rule == "low acid needs pressure"
    kinds = {way.card.canner for way in answer.alternatives if way.card}
    assert kinds == {CannerKind.DIAL, CannerKind.WEIGHTED}
    assert refusal(food="spaghetti sauce", canner=canner).reason.startswith("Spaghetti sauce is a low-acid mixture")


@pytest.mark.parametrize(
    ("jar", "counted", "minutes"),
    [
        ("half-pint", JarSize.PINT, 75),
        ("4 oz", JarSize.PINT, 75),
        ("12 oz", JarSize.PINT, 75),
        ("473 ml", JarSize.PINT, 75),
        ("474 ml", JarSize.QUART, 90),
        ("500 ml", JarSize.QUART, 90),
        ("24 oz", JarSize.QUART, 90),
        ("946 ml", JarSize.QUART, 90),
    ],
)
def test_a_jar_between_sizes_takes_the_next_larger_tested_one(jar: str, counted: JarSize, minutes: int) -> None:
    answer = card(**GROUND_BEEF, jar=jar)
    assert (answer.jar_counted_as, answer.minutes) == (counted, minutes)


@pytest.mark.parametrize("jar", ["947 ml", "1 l", "1 litre", "half-gallon"])
def test_a_jar_larger_than_the_largest_tested_is_refused(jar: str) -> None:
    assert refusal(**GROUND_BEEF, jar=jar).rule == "jar too large"


def test_only_very_acid_juice_has_a_half_gallon() -> None:
    """R044; Guide 2, apple juice: half-gallons 10 min at sea level."""
    answer = card(food="apple juice", jar="half gallon", canner=CannerKind.BOILING_WATER)
    assert (answer.jar_counted_as, answer.minutes) == (JarSize.HALF_GALLON, 10)


@pytest.mark.parametrize(
    ("altitude_ft", "psi"),
    [(-500, 11), (0, 11), (2000, 11), (2000.4, 12), (2001, 12), (4000, 12), (4001, 13), (6000, 13), (8000, 14)],
)
def test_dial_bands_at_their_edges(altitude_ft: float, psi: int) -> None:
    assert card(**GROUND_BEEF, altitude_m=altitude_ft * M_PER_FT).pressure_psi == psi


@pytest.mark.parametrize(("altitude_ft", "psi"), [(0, 10), (1000, 10), (1000.4, 15), (8000, 15)])
def test_weighted_bands_at_their_edges(altitude_ft: float, psi: int) -> None:
    answer = card(**GROUND_BEEF, canner=CannerKind.WEIGHTED, altitude_m=altitude_ft * M_PER_FT)
    assert (answer.minutes, answer.pressure_psi, answer.warnings) == (90, psi, ())


@pytest.mark.parametrize("canner", list(CannerKind))
def test_above_8000_ft_nothing_is_answered(canner: CannerKind) -> None:
    food = "peach" if canner in (CannerKind.BOILING_WATER, CannerKind.STEAM) else "beef"
    answer = refusal(food=food, canner=canner, altitude_m=8000.1 * M_PER_FT)
    assert answer.rule == "above the last altitude band"
    assert not [way for way in answer.alternatives if way.card]


@pytest.mark.parametrize("altitude_m", [float("nan"), float("inf"), -float("inf"), -500.0, "760 m"])
def test_nonsense_altitudes_are_input_errors(altitude_m: Any) -> None:
    with pytest.raises(InputError):
        ask(**GROUND_BEEF, altitude_m=altitude_m)


@pytest.mark.parametrize(("error_psi", "shown"), [(0.5, 12.5), (1.0, 13.0), (2.0, 14.0), (-0.5, 12.0), (-2.0, 12.0)])
def test_a_dial_that_reads_high_is_held_higher_and_never_below_the_printed(error_psi: float, shown: float) -> None:
    """R030: reads 1 lb high, 1 lb more; we take nothing off where it reads low."""
    answer = card(**GROUND_BEEF, altitude_m=762, gauge_error_psi=error_psi)
    assert (answer.pressure_psi, answer.pressure_psi_printed) == (shown, 12)
    assert any("replace it" in warning for warning in answer.warnings) is (abs(error_psi) >= 1)


@pytest.mark.parametrize("error_psi", [2.01, -2.5])
def test_a_dial_more_than_2_psi_off_is_refused(error_psi: float) -> None:
    answer = refusal(**GROUND_BEEF, gauge_error_psi=error_psi)
    assert answer.rule == "gauge too far off"
    assert {way.card.canner for way in answer.alternatives if way.card} == {CannerKind.WEIGHTED}


@pytest.mark.parametrize("canner", [CannerKind.WEIGHTED, CannerKind.BOILING_WATER, CannerKind.STEAM])
def test_only_a_dial_can_read_wrong(canner: CannerKind) -> None:
    with pytest.raises(InputError, match="only a dial gauge"):
        ask(**GROUND_BEEF, canner=canner, gauge_error_psi=0.5)


@pytest.mark.parametrize("error_psi", [float("nan"), float("inf"), "1"])
def test_a_nonsense_gauge_error_is_refused(error_psi: Any) -> None:
    with pytest.raises(InputError, match="gauge error"):
        ask(**GROUND_BEEF, gauge_error_psi=error_psi)


def test_the_gauge_test_is_warned_of() -> None:
    today = date(2026, 9, 1)
    fresh = card(**GROUND_BEEF, gauge_tested_on=date(2025, 9, 1), today=today)
    assert fresh.warnings == ()
    stale = card(**GROUND_BEEF, gauge_tested_on=date(2025, 8, 31), today=today)
    assert "more than a year ago" in stale.warnings[0]
    assert "No gauge test" in card(**GROUND_BEEF).warnings[0]
    assert "holds for one year" in card(**GROUND_BEEF, gauge_tested_on=date(2025, 8, 31)).warnings[0]
    with pytest.raises(InputError, match="still to come"):
        ask(**GROUND_BEEF, gauge_tested_on=date(2026, 9, 2), today=today)


def test_tomatoes_under_pressure_keep_their_acid_and_list_the_other_lines() -> None:
    """Guide 3, whole tomatoes in water: 15 min at 6 lb, 10 min at 11 lb, 1 min at a 15 lb weight."""
    whole = {"food": "tomato", "form": "whole or halved in water", "pack": "hot"}
    dial = card(**whole)
    assert (dial.minutes, dial.pressure_psi, dial.choices) == (10, 11, ((15, 6),))
    assert "lemon juice" in dial.acidification
    weighted = card(**whole, canner=CannerKind.WEIGHTED)
    assert (weighted.minutes, weighted.pressure_psi, weighted.choices) == (10, 10, ((15, 5), (1, 15)))
    higher = card(**whole, canner=CannerKind.WEIGHTED, altitude_m=1001 * M_PER_FT)
    assert (higher.minutes, higher.pressure_psi, higher.choices) == (10, 15, ((15, 10),))
    assert card(**whole, gauge_error_psi=0.4).choices == ((15, 7),)


def test_steam_has_the_same_time_and_its_own_steps() -> None:
    peaches = {"food": "peach", "form": "halved or sliced", "pack": "raw", "jar": "quart"}
    steam = card(**peaches, canner=CannerKind.STEAM, altitude_m=1500)
    assert steam.minutes == card(**peaches, canner=CannerKind.BOILING_WATER, altitude_m=1500).minutes == 40
    assert any("thermometer" in step for step in steam.steps)


def test_jars_are_sterilised_only_below_ten_minutes() -> None:
    """Jam 5 min at sea level, 10 min from 1,001 ft (N019)."""
    jam = {"food": "jam", "form": "with added pectin", "jar": "half-pint", "canner": CannerKind.BOILING_WATER}
    low, high = card(**jam), card(**jam, altitude_m=306)
    assert (low.minutes, low.sterilise_jars) == (5, True)
    assert any("boil them 10 min" in step for step in low.steps)
    assert (high.minutes, high.sterilise_jars) == (10, False)


@pytest.mark.parametrize("form", ["mashed", "puree", "puréed"])
def test_a_forbidden_preparation_is_refused_with_its_published_reason(form: str) -> None:
    answer = refusal(food="pumpkin", form=form)
    assert answer.rule == "no tested process"
    assert "thickness" in answer.reason
    assert any(way.card and "cubes" in way.card.form for way in answer.alternatives)


@pytest.mark.parametrize(
    "food", ["cabbage", "zucchini", "broccoli", "bacon", "chanterelle mushroom", "butter", "haddock", "onion"]
)
def test_food_without_a_process_is_refused(food: str) -> None:
    answer = refusal(food=food)
    assert answer.rule == "no tested process"
    assert not [way for way in answer.alternatives if way.card]


@pytest.mark.parametrize("canner", list(CannerKind))
@pytest.mark.parametrize("food", ["elderberry", "elderberries"])
def test_elderberries_are_refused_whatever_the_canner(food: str, canner: CannerKind) -> None:
    """Univ. of Maine Extension 2020: too low in acid for the processes of other berries."""
    answer = refusal(food=food, canner=canner, form="whole", pack="hot")
    assert answer.rule == "no tested process"
    assert "acid" in answer.reason
    assert not [way for way in answer.alternatives if way.card]
    assert any(way.what.startswith("Freeze it") for way in answer.alternatives)


@pytest.mark.parametrize("food", ["chili", "Chilli", " chile "])
def test_a_chili_may_be_the_dish_and_is_asked_back(food: str) -> None:
    """Guide 5: chile con carne, pints 75 min; Guide 4: peppers, pints 35 min."""
    with pytest.raises(InputError, match="chile con carne"):
        ask(food=food, jar="pint")
    assert card(food="chile con carne", jar="pint").minutes == 75
    assert card(food="chili pepper", jar="pint").minutes == 35


@pytest.mark.parametrize("jar", ["300 ml", "700 ml"])
def test_a_jar_counted_as_a_larger_one_is_told_to_take_all_its_acid(jar: str) -> None:
    answer = card(food="tomatoes", form="crushed", jar=jar, canner=CannerKind.BOILING_WATER)
    counted = answer.jar_counted_as.value
    assert any(f"all the acid of a {counted}" in warning for warning in answer.warnings)
    assert not any("acid" in warning for warning in card(food="carrots", pack="hot", jar=jar).warnings)


@pytest.mark.parametrize(
    ("food", "form", "pack", "says"),
    [
        ("tomatoes", "crushed", "hot", "frost-killed"),
        ("green tomatoes", "whole", "raw", "frost-killed"),
        ("tomato juice", None, "hot", "frost-killed"),
        ("tomato sauce", None, "hot", "frost-killed"),
        ("peaches", None, "hot", "white ones are too low in acid"),
        ("nectarines", None, "raw", "white ones are too low in acid"),
        ("berries", None, "hot", "elderberries"),
    ],
)
def test_fruit_that_is_less_acid_than_it_looks_is_named_on_the_card(
    food: str, form: str | None, pack: str, says: str
) -> None:
    """GH1456: no tomatoes from dead or frost-killed vines; Univ. of Maine Extension 2020: white flesh, elderberries."""
    answer = card(food=food, form=form, pack=pack, jar="pint", canner=CannerKind.BOILING_WATER)
    assert says in answer.steps[0]


def test_an_unknown_food_names_its_nearest() -> None:
    with pytest.raises(UnknownFood, match="tomato"):
        ask(food="tomatto")


def test_several_forms_or_packs_are_asked_back_and_one_is_taken() -> None:
    with pytest.raises(AmbiguousRequest) as forms:
        ask(food="beef")
    assert forms.value.choices == ("ground or chopped", "strips, cubes or chunks, boned")
    with pytest.raises(AmbiguousRequest, match="--pack") as packs:
        ask(food="green beans")
    assert set(packs.value.choices) == {"raw", "hot"}
    assert card(food="beets").pack == "hot"


def test_only_forms_that_can_be_used_for_the_jar_are_listed() -> None:
    """Fish in quart jars is known from memory only, and a pint is no quart."""
    with pytest.raises(AmbiguousRequest, match="no verified figure for this jar") as asked:
        ask(food="salsa", jar="pint", canner=CannerKind.BOILING_WATER)
    assert "hot tomato and chile" in asked.value.choices
    assert "hot tomato and chile, second recipe" not in asked.value.choices
    with pytest.raises(AmbiguousRequest) as asked:
        ask(food="salsa", form="tomato and", jar="pint", canner=CannerKind.BOILING_WATER)
    assert asked.value.choices == ("hot tomato and chile",)
    with pytest.raises(AmbiguousRequest, match="not verified"):
        ask(food="cantaloupe pickles", jar="pint", canner=CannerKind.BOILING_WATER)
    assert card(food="fish", form="fatty", jar="pint").form.startswith("fatty fish such as mackerel")


def test_weighted_figures_that_were_not_read_on_the_page_are_marked() -> None:
    words = "were not read on the page named"
    for food, form, is_marked in (
        ("tomatoes", "crushed", True),
        ("nectarines", None, True),
        ("tomato sauce", None, False),
        ("beets", None, False),
    ):
        pack = "hot"
        said = card(food=food, form=form, pack=pack, jar="pint", canner=CannerKind.WEIGHTED).warnings
        assert any(words in warning for warning in said) is is_marked, food
        dial = card(food=food, form=form, pack=pack, jar="pint", canner=CannerKind.DIAL).warnings
        assert not any(words in warning for warning in dial)


def test_a_name_may_imply_the_form() -> None:
    assert card(food="mince").form == "ground or chopped"
    assert card(food="chicken breast", pack="raw").minutes == 90
    assert card(food="mince", form="ground").form == "ground or chopped"
    with pytest.raises(InputError, match="means"):
        ask(food="chicken breast", form="pieces with bones", pack="raw")


def test_a_form_or_pack_without_a_row_is_refused_with_the_others() -> None:
    roast = refusal(food="beef", form="whole roast", pack="hot")
    assert roast.rule == "no tested row"
    assert {way.card.form for way in roast.alternatives if way.card} == {
        "ground or chopped",
        "strips, cubes or chunks, boned",
    }
    raw = refusal(food="beef", form="ground or chopped", pack="raw")
    assert "hot packed only" in raw.reason
    assert {way.card.pack for way in raw.alternatives if way.card} >= {"hot"}


def test_boneless_chicken_never_gets_the_time_of_pieces_with_bones() -> None:
    """Guide 5: quarts 90 min without bones, 75 min with."""
    assert card(food="chicken", form="boneless", pack="hot").minutes == 90
    assert card(food="chicken", form="bone-in", pack="hot").minutes == 75
    with pytest.raises(AmbiguousRequest):
        ask(food="chicken", form="pieces", pack="hot")


def test_a_figure_from_memory_is_never_offered() -> None:
    answer = refusal(food="salmon", form="fatty fish or halibut, quart jars", pack="raw")
    assert answer.rule == "known only from memory"
    assert "not verified" in answer.reason


def test_a_smaller_jar_from_memory_takes_the_tested_larger_one() -> None:
    """Southern peas: quarts 50 min were read, pints 40 min are recalled."""
    answer = card(food="fresh black-eyed peas", jar="pint")
    assert (answer.jar_counted_as, answer.minutes) == (JarSize.QUART, 50)
    assert "only from memory" in answer.warnings[0]


def test_no_row_for_this_method() -> None:
    """Figs and grapes have no pressure process; the guide's grapefruit has a hot pack under pressure only."""
    assert refusal(food="grapes", form="whole in light syrup", pack="hot").rule == "no tested row"
    answer = refusal(food="grapefruit and orange", form="sections", pack="hot", canner=CannerKind.BOILING_WATER)
    assert answer.rule == "no tested row"
    assert card(food="grapefruit and orange", canner=CannerKind.BOILING_WATER).pack == "raw"


def test_smoked_fish_starts_in_a_cool_canner() -> None:
    steps = " ".join(card(food="smoked fish", jar="pint").steps)
    assert "not preheated" in steps
    assert "hot water in the canner" not in steps


@pytest.mark.parametrize("pack", ["cold pack", "RAW", "raw-packed"])
def test_packs_are_read_kindly(pack: str) -> None:
    assert card(food="carrots", pack=pack).pack == "raw"


def test_an_unknown_pack_is_an_input_error() -> None:
    with pytest.raises(InputError, match="hot"):
        ask(food="carrots", pack="dry")


def test_a_line_left_out_for_this_gauge_is_refused() -> None:
    """A line printed for the 15 lb weight alone is no process for a dial."""
    printed = next(row for row in rows_for("beets") if row.jar is JarSize.QUART)
    only_weight = replace(printed, dial_psi=(None,) * 4)
    question = Question(
        "beet", "beets", printed.form, printed.pack, read_jar("quart"), CannerKind.DIAL, 0.0, 0.0, Gauge()
    )
    assert isinstance(decide(question, [printed]), ProcessCard)
    answer = decide(question, [only_weight])
    assert isinstance(answer, ProcessRefusal)
    assert "no dial gauge pressure" in answer.reason
