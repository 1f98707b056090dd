"""The tested process for a canner load, or a refusal."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from ninja import Router

from stillroom.heat.role import RefusalAndNote
from stillroom.process.answer_keys import card_keys, refusal_keys
from stillroom.process.form_choice import AmbiguousRequest
from stillroom.web.api.problems import Problem, usable
from stillroom.web.bench import card
from stillroom.web.bench.card_form import CardForm

router = Router()


@router.get("/process")
def process(
    request: HttpRequest,
    food: str,
    form: str = "",
    pack: str = "",
    jar: str = "quart",
    canner: str = "",
    altitude: str = "",
) -> dict[str, Any]:
    """A card (`tested` true) or a refusal (`tested` false) with its ways out, as `stillroom process --json` prints it.

    Without `canner` the first of the household, with its gauge; without `altitude` that of the household. Where food or
    pack leave a choice, nothing is guessed: 422, and `fields` names the choices.
    """
    question = usable(CardForm.asked(request)).question
    try:
        found = card.answered(question)
    except AmbiguousRequest as asked:
        back = card.asked_back(asked)
        raise Problem(422, back.sentence, {back.what: " | ".join(choice for choice, _ in back.choices)}) from None
    return refusal_keys(found.refusal) if isinstance(found, RefusalAndNote) else card_keys(found.card)
