"""Events as `tarebook converse` prints them: the keys and their order."""

from collections import Counter
from collections.abc import Callable, Iterator
from datetime import date

import pytest

from bot import batch_events, events, fact_events, people_events
from bot.events import Event, as_json
from bot.kinds import CautionKind
from domain.foods import State
from domain.weighins import Evidence


def leaves(kind: type[Event]) -> Iterator[type[Event]]:
    below = kind.__subclasses__()
    yield from (leaf for each in below for leaf in leaves(each)) if below else (kind,)


def test_every_kind_has_a_tag_of_its_own() -> None:
    tags = Counter(str(kind.__struct_config__.tag) for kind in leaves(Event))
    assert len(tags) > 35
    assert {tag for tag, count in tags.items() if count > 1} == {"note"}  # the two ends of one note
    assert not [tag for tag in tags if not tag.islower() or tag == "_"]


WEIGH_IN: dict[str, object] = {
    "id": 12,
    "who": "mira",
    "food": "white rice",
    "state": "cooked",
    "batch": None,
    "as_weighed_g": 180.0,
    "edible_g": 180.0,
    "basis_g": 180.0,
    "basis": "cooked",
    "evidence": "weighed",
    "kcal": 234.0,
    "protein_g": 4.8,
    "fat_g": 0.5,
    "carbohydrate_g": 50.7,
    "fibre_g": None,
    "day": "2026-03-02",
    "meal": "lunch",
}


def weigh_in(kind: Callable[..., Event], **more: int) -> Event:
    typed = {"state": State.COOKED, "basis": State.COOKED, "evidence": Evidence.WEIGHED, "day": date(2026, 3, 2)}
    return kind(**{**WEIGH_IN, **typed}, **more)


@pytest.mark.parametrize(
    ("event", "printed"),
    (
        (weigh_in(events.WeighInRecorded), {"type": "weigh_in", **WEIGH_IN}),
        (weigh_in(events.WeighInChanged, was=11), {"type": "weigh_in_changed", **WEIGH_IN, "was": 11}),
        (
            batch_events.BatchCooked(batch=1, cooked_g=1000.0, yield_=0.8, raw_factor=1.25),
            {"type": "batch_cooked", "batch": 1, "cooked_g": 1000.0, "yield": 0.8, "raw_factor": 1.25},
        ),
        (
            fact_events.TargetSet(kcal=2100.0, protein_g=None, fat_g=None, carbohydrate_g=None),
            {"type": "target_set", "kcal": 2100.0, "protein_g": None, "fat_g": None, "carbohydrate_g": None},
        ),
        (
            fact_events.TargetSet(kcal=1.0, protein_g=None, fat_g=None, carbohydrate_g=None, from_=date(2026, 3, 9)),
            {
                "type": "target_set",
                "kcal": 1.0,
                "protein_g": None,
                "fat_g": None,
                "carbohydrate_g": None,
                "from": "2026-03-09",
            },
        ),
        (people_events.NoteReceived(from_="Ines"), {"type": "note", "from": "Ines"}),
        (people_events.NoteSent(to="Ines"), {"type": "note", "to": "Ines"}),
        (events.Cautioned(kind=CautionKind.RAW_MEAT), {"type": "caution", "kind": "raw_meat"}),
        (events.HelpShown(), {"type": "help"}),
    ),
    ids=lambda value: type(value).__name__,
)
def test_the_keys_and_their_order_are_the_contract(event: Event, printed: dict[str, object]) -> None:
    assert list(as_json(event).items()) == list(printed.items())
