"""One vocabulary: what cooks of three countries call a food, and which printed process the name may reach."""

from __future__ import annotations

import re
import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stillroom.errors import SourceError, UnknownFood
from stillroom.tables import composition, processes, spelling, vocabulary
from stillroom.tables.csv_rows import DATA, read_csv
from stillroom.tables.vocabulary import SeveralMeanings, food, foods, hear, names


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("Haricots verts", "green bean"),
        ("french beans", "green bean"),
        ("runner beans", "runner bean"),
        ("courgettes", "zucchini"),
        ("swede", "rutabaga"),
        ("Aubergine", "eggplant"),
        ("beetroot", "beet"),
        ("capsicums", "green bell pepper"),
        ("mangetout", "snow pea"),
        ("broad beans", "fava bean, fresh in pod"),
        ("silverbeet", "swiss chard"),
        ("rockmelon", "cantaloupe"),
        ("pawpaw", "papaya"),
        ("rocket", "arugula"),
        ("coriander leaf", "cilantro"),
        ("scallions", "spring onion"),
        ("cornflour", "cornstarch"),
        ("caster sugar", "sugar, white"),
        ("plain flour", "wheat flour, all-purpose"),
        ("strong flour", "wheat flour, bread"),
        ("bicarb", "baking soda"),
        ("chook", "chicken, whole"),
        ("hogget", "lamb"),
        ("mutton", "lamb"),
        ("gammon", "ham, cured"),
        ("kumara", "sweet potato"),
        ("maize", "corn grain, dry"),
        ("jalapeño", "jalapeno pepper"),
        ("bird’s eye chillies", "hot chili pepper, red"),
        ("yoghurt", "yogurt, plain"),
        ("ground pork", "pork, ground"),
        ("fresh tomatoes", "tomato"),
        ("RADISHES", "radish"),
        ("peaches", "peach"),
        ("strawberries", "strawberry"),
        ("bay leaves", "bay leaf"),
        ("salt & pepper", None),
    ],
)
def test_the_words_of_three_countries_are_heard(said: str, key: str | None) -> None:
    if key is None:
        with pytest.raises(UnknownFood):
            hear(said)
    else:
        assert hear(said).food.key == key


@pytest.mark.parametrize(
    ("said", "process_food", "form"),
    [
        ("mince", "beef", "ground or chopped"),
        ("minced beef", "beef", "ground or chopped"),
        ("pork mince", "pork", "ground or chopped"),
        ("lamb mince", "lamb", "ground or chopped"),
        ("venison, ground", "venison", "ground or chopped"),
        ("pork shoulder", "pork", None),
        ("boneless chicken breast", "chicken", "pieces without bones"),
        ("green bean", "snap beans", None),
        ("spinach", "leafy greens", None),
        ("turkey", "turkey, duck, goose or game birds", None),
        ("pheasant", "turkey, duck, goose or game birds", None),
    ],
)
def test_a_name_implies_its_process_food_and_form(said: str, process_food: str, form: str | None) -> None:
    heard = hear(said)
    assert (heard.food.process_food, heard.form) == (process_food, form)


@pytest.mark.parametrize(
    "said",
    [
        *("wild mushroom", "chanterelles", "oyster mushrooms", "zucchini", "summer squash", "snow peas", "sugar snaps"),
        *(
            "elderberries",
            "blue crab",
            "white peach",
            "white nectarine",
            "strawberry",
            "orange",
            "banana",
            "mango",
            "spaghetti squash",
        ),
        *("bacon", "gammon", "corned beef", "salt pork", "pork liver", "giblets", "chicken livers", "goat"),
        *("turkey mince", "ground chicken", "spare ribs of pork", "pork belly", "beef short ribs", "cod", "halibut"),
        *("cabbage", "broccoli", "cauliflower", "celery", "onion", "turnip", "parsnip", "swede", "eggplant", "lettuce"),
        *("runner beans", "broad beans", "frozen spinach", "green pea, frozen", "dried tomatoes", "yam", "lentils"),
        *("bangers", "snags", "sausagemeat", "brown crab", "chorizo", "oxtail", "ox cheek", "lamb chops", "pork hock"),
        *("split peas", "tofu", "pasta", "rice", "vegetable broth", "fish stock", "shrimp", "mussels", "mashed potato"),
    ],
)
def test_what_the_publication_does_not_cover_reaches_no_process(said: str) -> None:
    try:
        heard = hear(said)
    except UnknownFood:
        return
    assert heard.food.process_food is None


def test_cooked_and_dried_states_reach_no_process() -> None:
    """A process starts from the food as the table says, not from leftovers."""
    states = ("boiled", "roasted", "braised", "stewed", "baked", "cooked", "dried", "frozen", "canned")
    for known in foods():
        if any(state in known.key.split(", ", 1)[-1].split() for state in states) and ", " in known.key:
            assert known.process_food is None, known.key


def test_where_a_name_means_two_foods_the_longer_process_or_none_is_taken() -> None:
    minutes = {
        row.food: row.minutes[0] for row in processes.rows() if row.jar == "quart" and row.key.startswith("low_acid")
    }
    for said, other in (("butter beans", "lima beans"), ("black-eyed peas", "southern peas")):
        assert minutes[hear(said).food.process_food or ""] > minutes[other]
    for said in ("squash", "beans"):
        with pytest.raises(UnknownFood):
            hear(said)


def test_every_food_of_the_process_tables_is_reached_by_its_printed_name() -> None:
    for process_food in {row.food for row in processes.rows()}:
        assert hear(process_food).food.process_food == process_food


def test_every_process_food_and_form_of_the_vocabulary_is_printed() -> None:
    printed = {(row.food, form) for row in processes.rows() for form in (row.form, None)}
    for known in foods():
        if known.process_food is not None:
            assert (known.process_food, known.form) in printed, known.key
            assert known.form is None or known.form == hear(known.key).form
    for name in names():
        heard = hear(name)
        if heard.form is not None:
            assert (heard.food.process_food, heard.form) in printed, name


def test_every_way_to_a_process_says_why() -> None:
    """Nobody reaches a process by a name for which the table gives no ground."""
    for row in read_csv(DATA / "vocabulary.csv", vocabulary.FOOD_COLUMNS):
        assert bool(row.cells["process_food"]) == bool(row.cells["mapped_because"]), row.cells["key"]


def test_every_composition_name_is_a_key_of_the_vocabulary() -> None:
    keys = {known.key for known in foods()}
    assert len(keys) == len(foods())
    assert {row.food for row in composition.compositions()} == {f.composition for f in foods() if f.composition}
    assert {f.composition for f in foods() if f.composition} <= keys


def test_every_key_and_synonym_is_heard_as_its_own_food() -> None:
    for known in foods():
        assert hear(known.key).food is known
        assert food(known.key) is known
        for synonym in known.synonyms:
            assert hear(synonym).food is known, synonym


def test_no_two_foods_share_a_folded_name_but_pepper() -> None:
    """Plural folding may not send one food's plural to another food; “peppers” and “pepper” are told apart exactly."""
    told: dict[str, set[str]] = {}
    for name in names():
        told.setdefault(spelling.folded(name), set()).add(hear(name).food.key)
    assert {folded: keys for folded, keys in told.items() if len(keys) > 1} == {"pepper": {"peppers", "black pepper"}}


def test_an_unknown_food_names_the_nearest() -> None:
    with pytest.raises(UnknownFood) as told:
        hear(" Gren beens ")
    assert told.value.heard == "Gren beens"
    assert "green bean" in told.value.nearest
    with pytest.raises(UnknownFood, match="butternut squash"):
        hear("squash")
    with pytest.raises(UnknownFood, match=r"No food called “” is known here\.$"):
        hear("  ")
    with pytest.raises(UnknownFood) as told:
        food("green beans")
    assert "green bean" in told.value.nearest


@given(st.sampled_from([known.key for known in foods()]), st.sampled_from(["upper", "title", "lower"]))
def test_case_and_hyphens_do_not_matter(key: str, case: str) -> None:
    said = getattr(key, case)().replace(" ", "-")
    assert hear(f"  {said} ").food.key == key


@given(st.text(string.ascii_letters + " ,-'éß½", max_size=30))
def test_any_text_is_heard_or_named_unknown(text: str) -> None:
    try:
        assert hear(text).food in foods()
    except UnknownFood as unknown:
        assert unknown.heard == text.strip()


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("Haricots-verts", "haricots verts"),
        ("  Crème   fraîche ", "creme fraiche"),
        ("pig's TROTTERS", "pigs trotters"),
        ("milk, 2%", "milk 2%"),
    ],
)
def test_plain_words(written: str, read: str) -> None:
    assert spelling.plain(written) == read


@pytest.mark.parametrize(
    ("plural", "one"),
    [
        *(("berries", "berry"), ("tomatoes", "tomato"), ("radishes", "radish"), ("leaves", "leaf"), ("geese", "goose")),
        *(("asparagus", "asparagus"), ("watercress", "watercress"), ("clams", "clam"), ("pies", "pie")),
        *(("sloes", "sloe"), ("mangoes", "mango"), ("chillies", "chili")),
    ],
)
def test_plurals(plural: str, one: str) -> None:
    assert spelling.singular(plural) == one


def test_a_name_written_noun_first_is_turned() -> None:
    assert spelling.turned("pork, ground, cooked") == "cooked ground pork"


def test_a_double_key_or_a_synonym_of_nothing_is_an_error(tmp_path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    header = ",".join(vocabulary.FOOD_COLUMNS)
    (tmp_path / "vocabulary.csv").write_text(f"{header}\nbeet,vegetable,,,,,s,e\nbeet,vegetable,,,,,s,e\n")
    (tmp_path / "synonyms.csv").write_text(",".join(vocabulary.SYNONYM_COLUMNS) + "\n")
    monkeypatch.setattr(vocabulary, "DATA", tmp_path)
    with pytest.raises(SourceError, match=r"vocabulary\.csv, row 3, column key: “beet” is there twice"):
        _reread()
    (tmp_path / "vocabulary.csv").write_text(f"{header}\nbeet,vegetable,,,,,s,e\n")
    (tmp_path / "synonyms.csv").write_text(",".join(vocabulary.SYNONYM_COLUMNS) + "\nbeetroot,beets,,s,e\n")
    with pytest.raises(SourceError, match=r"synonyms\.csv, column key: “beets” is not a food"):
        _reread()


def _reread() -> None:
    vocabulary._synonyms.cache_clear()
    vocabulary._by_key.__wrapped__()


@pytest.fixture(autouse=True)
def _fresh_synonyms() -> object:
    yield
    vocabulary._synonyms.cache_clear()


@pytest.mark.parametrize(
    ("said", "key"),
    [
        ("string beans", "green bean"),
        ("chanterelles", "chanterelle mushroom"),
        ("salami", "dry salami"),
        ("tomatoe", "tomato"),
        ("pinto", "pinto bean, dry"),
        ("Pumpkin purée", "pumpkin puree"),
        ("mashed sweet potatoes", "mashed sweet potato"),
    ],
)
def test_everyday_words_are_heard(said: str, key: str) -> None:
    assert hear(said).food.key == key


@pytest.mark.parametrize(
    ("said", "choice"),
    [
        ("beans", "“green beans”"),
        ("squash", "“butternut squash”"),
        ("broth", "“chicken broth”"),
        ("bouillon", "“beef broth”"),
        ("chicken soup", "“soup with noodles or rice”"),
        ("chutney", "“mango chutney”"),
        ("cream-style corn", "“cream style”"),
        ("fruit salad", "“fruit cocktail”"),
        ("mixed fruit", "“fruit cocktail”"),
    ],
)
def test_a_name_of_several_foods_is_asked_back(said: str, choice: str) -> None:
    with pytest.raises(SeveralMeanings, match=choice) as told:
        hear(said)
    assert told.value.heard == said
    assert str(told.value).startswith(f"“{said}” does not tell which process")


def test_every_choice_that_is_offered_is_known() -> None:
    for row in read_csv(DATA / "several_meanings.csv", vocabulary.MEANING_COLUMNS):
        for choice in re.findall("“(.+?)”", row.text("choices")):
            assert choice in ("dried beans", "cream style") or hear(choice).food in foods(), choice


def test_no_trade_mark_is_a_food() -> None:
    for brand in ("instacure no. 1", "prague powder no. 1", "clear jel", "maizena", "easy bake yeast", "tenderstem"):
        with pytest.raises(UnknownFood):
            hear(brand)
