"""What can be done with a recipe that no tested process covers: its base, a tested namesake, the freezer."""

from __future__ import annotations

from collections.abc import Sequence

from stillroom.model.process import Alternative
from stillroom.process.heating import heat_of
from stillroom.process.ingredient_lines import Line, read_line
from stillroom.process.mixtures import LIQUIDS, Match, is_seasoning, process_food_of
from stillroom.process.other_ways import freeze_food, freeze_mixture
from stillroom.process.row_choice import is_tested
from stillroom.process.screening_rules import Finding
from stillroom.tables.processes import rows_for
from stillroom.tables.vocabulary import Food

# Findings about how the jars are packed and heated: nothing of them can wait until the jar is opened.
_OF_THE_JARS = frozenset({"needs pressure", "untested packing", "not a canner", "no process at all", "dry seed"})


def base_of(lines: Sequence[Line], findings: Sequence[Finding]) -> tuple[Line, ...]:
    """The lines that nothing stands against; () where leaving lines or steps out changes nothing."""
    bad = {finding.ingredient for finding in findings if not finding.in_method}
    base = tuple(line for line in lines if line.text not in bad)
    return base if len(base) < len(lines) or any(finding.in_method for finding in findings) else ()


def can_the_base(
    lines: Sequence[Line], base: Sequence[Line], findings: Sequence[Finding], match: Match
) -> tuple[Alternative, ...]:
    """Can the base and add the rest when opening; `match` is the process that covers the base alone."""
    names = ", ".join(dict.fromkeys(food.key for food in _foods(base) if not is_seasoning(food)))
    rest = [line.text for line in lines if line not in base]
    steps = (finding.ingredient for finding in findings if finding.in_method and finding.rule not in _OF_THE_JARS)
    rest += [f"the step “{step}”" for step in dict.fromkeys(steps)]
    later = f", and leave for the day the jar is opened: {'; '.join(rest)}" if rest else ""
    what = (
        f"Can the base ({names}) by the tested process for {match.process_food}"
        f"{f', {match.form}' if match.form else ''}, {heat_of(match.process_food, match.form)}{later}. "
        f"{' '.join(match.conditions)}"
    )
    return (Alternative(what, source=match.source),)


def tested_namesakes(name: str) -> tuple[Alternative, ...]:
    """Tested recipes that go by the same name: they may be made, in their own proportions only."""
    kinds = [heard.food.process_food or "" for heard in read_line(name).foods if process_food_of(heard.food) is None]
    return tuple(
        Alternative(
            f"A tested process exists for {kind}, made by its tested recipe and in those proportions only.",
            source=row.source,
        )
        for kind in dict.fromkeys(kinds)
        for row in [row for row in rows_for(kind) if is_tested(row)][:1]
    )


def freeze_it(lines: Sequence[Line]) -> tuple[Alternative, ...]:
    """Freezing, by the keeping time of the food itself where it is one food, of a cooked dish where it is several."""
    foods = _foods(lines)
    main = tuple(dict.fromkeys(food for food in foods if not is_seasoning(food) and food.key not in LIQUIDS))
    return (freeze_food(main[0]) if len(main) == 1 else ()) or freeze_mixture(foods)


def _foods(lines: Sequence[Line]) -> tuple[Food, ...]:
    return tuple(heard.food for line in lines for heard in line.foods)
