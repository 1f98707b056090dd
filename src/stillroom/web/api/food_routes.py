"""What comes in, and what is in store."""

from __future__ import annotations

from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from django.utils import timezone
from ninja import Router, Status

from stillroom.web.api.acting import acting
from stillroom.web.api.problems import Problem, usable
from stillroom.web.api.shapes import ArrivalIn, ArrivalOut, LotOut, LotsOut, PartIn
from stillroom.web.arrivals import actions as arrival_actions
from stillroom.web.arrivals.forms import LineForm, TakeForm
from stillroom.web.arrivals.models import Arrival
from stillroom.web.arrivals.waiting import expected, waiting
from stillroom.web.larder import actions as lot_actions
from stillroom.web.larder import in_store
from stillroom.web.larder.forms import TakeOutForm
from stillroom.web.larder.models import Lot

router = Router()


@router.get("/arrivals", response=list[ArrivalOut])
def arrivals(request: HttpRequest) -> list[ArrivalOut]:
    """What is here and not used up, the most pressing first; then what is expected."""
    household = request.household
    return [ArrivalOut.of(seen) for seen in (*waiting(household), *expected(household))]


@router.post("/arrivals", response={201: ArrivalOut})
def add_arrival(request: HttpRequest, sent: ArrivalIn) -> Status[ArrivalOut]:
    """Enters what came in or is expected."""
    form = usable(LineForm({"line": sent.line, "clock": sent.clock}, household=request.household))
    with acting(request) as is_first:
        if is_first:
            arrival_actions.add(request.household, form.understood, at=timezone.now())
    return Status(201, ArrivalOut.of_row(_the_last_like(request, form.understood.food)))


@router.post("/arrivals/{arrival_id}/came", response=ArrivalOut)
def arrival_came(request: HttpRequest, arrival_id: int) -> ArrivalOut:
    """An expected arrival is in the house; said twice it came once."""
    arrival = get_object_or_404(request.household.arrivals, pk=arrival_id)
    with acting(request) as is_first:
        if is_first:
            arrival_actions.say_it_came(arrival, on=request.household.today, at=timezone.now())
    return ArrivalOut.of_row(arrival)


@router.post("/arrivals/{arrival_id}/taken", response=ArrivalOut)
def arrival_taken(request: HttpRequest, arrival_id: int, sent: PartIn) -> ArrivalOut:
    """What became of a part: eaten, given away, put up, spoilt."""
    arrival = get_object_or_404(request.household.arrivals, pk=arrival_id)
    form = usable(TakeForm(sent.dict(), arrival=arrival))
    mass_g, why = form.cleaned_data["amount"].mass_g, form.cleaned_data["why"]
    with acting(request) as is_first:
        if is_first:
            arrival_actions.take(arrival, mass_g, why, at=timezone.now())
    return ArrivalOut.of_row(arrival)


@router.get("/larder", response=LotsOut)
def larder(request: HttpRequest, q: str = "", place: str = "", page: int = 1) -> LotsOut:
    """What is in store, the first to expire first; `q` looks for words in product and food."""
    lots = in_store.lots_left(request.household, q[:80])
    lots = lots.filter(place=place) if place else lots
    count = lots.count()
    seen = in_store.page(lots, count, page, request.household.today)
    return LotsOut(count=count, page=seen.number, pages=seen.last, lots=[LotOut.of(one.lot) for one in seen.lots])


@router.post("/larder/{lot_id}/out", response=LotOut)
def lot_out(request: HttpRequest, lot_id: int, sent: PartIn) -> LotOut:
    """Takes a part out: eaten, given away, thrown out."""
    lot = get_object_or_404(request.household.lots.select_related("household"), pk=lot_id)
    form = usable(TakeOutForm({"part": sent.amount, "why": sent.why}, lot=lot))
    (count, mass_g), why = form.cleaned_data["part"], form.cleaned_data["why"]
    with acting(request) as is_first:
        if is_first:
            lot_actions.take_out(lot, count, mass_g, why, day=request.household.today, at=timezone.now())
    return LotOut.of(Lot.objects.get(pk=lot.pk))


def _the_last_like(request: HttpRequest, food: str) -> Arrival:
    """The arrival that was entered; of a request that was sent again the one from before."""
    found = request.household.arrivals.filter(food=food).order_by("-pk").first()
    if found is None:
        raise Problem(409, "What was entered has been taken back since.")
    return found
