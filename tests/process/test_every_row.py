"""Every printed line that was read on a page is answered as printed, in every altitude band and for every gauge."""

from __future__ import annotations

import json

import pytest
import typer
from printed_rows import JAR_ML, PRINTED, TESTED, Printed
from typer.testing import CliRunner

from stillroom import units
from stillroom.cli.process_command import process_command
from stillroom.model.process import CannerKind, ProcessCard, ProcessRefusal
from stillroom.process.find import find

app = typer.Typer()
app.command()(process_command)
runner = CliRunner()


def ask(row: Printed, canner: str, altitude_ft: float) -> ProcessCard | ProcessRefusal:
    return find(
        row.food,
        form=row.form,
        pack=row.pack,
        jar=row.jar,
        canner=CannerKind(canner),
        altitude_m=units.metres(altitude_ft),
    )


def offered(card: ProcessCard) -> set[tuple[int, float | None]]:
    return {(card.minutes, card.pressure_psi), *card.choices}


def test_the_tables_were_found() -> None:
    assert len(TESTED) > 350
    assert {row.key.partition(":")[0] for row in TESTED} == {"low_acid", "acid_boiling_water", "acid_pressure"}


@pytest.mark.parametrize("row", TESTED, ids=lambda row: row.key)
def test_the_answer_is_the_row_at_both_edges_of_every_band(row: Printed) -> None:
    for canner, bands in row.figures.items():
        for low_ft, high_ft, minutes, psi in bands:
            for altitude_ft in (low_ft, high_ft):
                answer = ask(row, canner, altitude_ft)
                if canner != "boiling water" and psi is None:
                    assert isinstance(answer, ProcessRefusal) or answer.row.key != row.key
                    continue
                assert isinstance(answer, ProcessCard), (row.key, canner, altitude_ft)
                assert (minutes, psi) in offered(answer)
                assert (answer.form, answer.pack, answer.jar_counted_as.value) == (row.form, row.pack, row.jar)
                assert answer.headspace_in == row.headspace_in


@pytest.mark.parametrize("row", [row for row in TESTED if not row.is_pressure], ids=lambda row: row.key)
def test_steam_takes_the_boiling_water_time_up_to_45_minutes(row: Printed) -> None:
    for _low_ft, high_ft, minutes, _psi in row.figures["boiling water"]:
        answer = ask(row, "steam", high_ft)
        if minutes <= 45:
            assert isinstance(answer, ProcessCard)
            assert answer.minutes == minutes
        else:
            assert isinstance(answer, ProcessRefusal)
            assert answer.rule == "too long for steam"
            assert any(way.card and way.card.canner is CannerKind.BOILING_WATER for way in answer.alternatives)


@pytest.mark.parametrize("row", [row for row in PRINTED if not row.is_tested], ids=lambda row: row.key)
def test_a_row_from_memory_is_never_the_answer(row: Printed) -> None:
    for canner in row.figures:
        answer = ask(row, canner, 500)
        if isinstance(answer, ProcessCard):
            assert answer.row.key in {tested.key for tested in TESTED}
            assert JAR_ML[answer.jar_counted_as.value] >= JAR_ML[row.jar]


@pytest.mark.parametrize("row", TESTED, ids=lambda row: row.key)
def test_the_command_reaches_the_row(row: Printed) -> None:
    for canner, bands in row.figures.items():
        low_ft, _high_ft, minutes, psi = bands[0]
        if canner != "boiling water" and psi is None:
            continue
        words = [row.food, "--form", row.form, "--pack", row.pack, "--jar", row.jar, "--canner", canner]
        result = runner.invoke(app, [*words, "--altitude", f"{low_ft} ft", "--json"])
        assert result.exit_code == 0, result.output
        answer = json.loads(result.output)
        choices = [(choice["minutes"], choice["pressure_psi"]) for choice in answer["choices"]]
        assert (minutes, psi) in [(answer["minutes"], answer["pressure_psi"]), *choices]
        assert answer["tested"] is True
        assert answer["evidence"] in ("two_pages", "page")
        assert answer["source"]
