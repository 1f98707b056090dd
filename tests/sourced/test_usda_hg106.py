"""USDA Home and Garden Bulletin 106, Home Canning of Meat and Poultry: a dial gauge that reads high.

Publisher: United States Department of Agriculture, Agricultural Research Service.
Copy read: public text copy at bitlit.ru/page/en/united-states-agricultural-research-service-.../6 (page 6).
The bulletin processes at 10 pounds and says: 1 pound high, process at 11 pounds; 2 pounds high, at 12. It goes on to
3 and 4 pounds; there we follow the later rule that such a gauge is replaced. Its table for gauges that read low is
not followed: we never go below the printed pressure.
"""

from __future__ import annotations

import pytest

from stillroom.model.process import CannerKind, ProcessCard, ProcessRefusal
from stillroom.process.find import find

BEEF = {"form": "ground or chopped", "pack": "hot", "jar": "pint", "canner": CannerKind.DIAL, "altitude_m": 0.0}


@pytest.mark.parametrize("pounds_high", [0, 1, 2])
def test_each_pound_high_is_a_pound_more(pounds_high: int) -> None:
    answer = find("beef", gauge_error_psi=pounds_high, **BEEF)  # type: ignore[arg-type]
    assert isinstance(answer, ProcessCard)
    assert answer.pressure_psi == 11 + pounds_high


@pytest.mark.parametrize("pounds_high", [3, 4])
def test_a_gauge_further_off_is_replaced_first(pounds_high: int) -> None:
    assert isinstance(find("beef", gauge_error_psi=pounds_high, **BEEF), ProcessRefusal)  # type: ignore[arg-type]


def test_a_gauge_that_reads_low_takes_nothing_off() -> None:
    answer = find("beef", gauge_error_psi=-1, **BEEF)  # type: ignore[arg-type]
    assert isinstance(answer, ProcessCard)
    assert answer.pressure_psi == 11
