"""People who come into kitchens, leave them, cook, eat and take back in any order: nobody reads what is not theirs."""

from __future__ import annotations

import json
import random
import re

import pytest
from sqlalchemy import text

from bot.app import APOLOGY, Tarebook, open_tarebook
from bot.channels.converse import Converse

PEOPLE = ("ana", "bo", "cy", "dee")
STEPS = 70
# What each of them alone eats. No reply to anybody else may hold it, nor any of their figures of energy.
OWN = {"ana": "quillberry", "bo": "zanthorn", "cy": "mirrowroot", "dee": "oxlippen"}

_MAY_KNOW = text(
    "SELECT batch.name FROM batch JOIN person ON person.kitchen_id = batch.kitchen_id WHERE person.name = :who"
    " UNION SELECT batch.name FROM batch JOIN weigh_in ON weigh_in.batch_id = batch.id"
    " JOIN person ON person.id = weigh_in.person_id WHERE person.name = :who"
)
_BATCHES = text(
    "SELECT batch.name, (SELECT grams FROM batch_event WHERE batch_id = batch.id AND kind = 'cooked'"
    " AND undone_by IS NULL ORDER BY id DESC LIMIT 1),"
    " (SELECT sum(edible_g) FROM weigh_in WHERE batch_id = batch.id AND kind <> 'removed'"
    " AND NOT EXISTS (SELECT 1 FROM weigh_in later WHERE later.replaces = weigh_in.id))"
    " FROM batch WHERE undone_by IS NULL"
)
_PORTIONS = text("SELECT weigh_in.food, batch.name FROM weigh_in JOIN batch ON batch.id = weigh_in.batch_id")


class Household:
    """One run, with a person's every sentence at random."""

    def __init__(self, tarebook: Tarebook, seed: int) -> None:
        self.tarebook = tarebook
        self.random = random.Random(seed)
        self.codes: list[str] = []
        self.cooked = 0
        self._converse = Converse(tarebook)
        self._steps = 0
        self._refs: dict[str, list[int]] = {who: [] for who in PEOPLE}

    def step(self, **keys: object) -> dict:
        self._steps += 1
        answer = json.loads(self._converse.step(self._steps, json.dumps(keys).encode()))
        for reply in answer.get("replies", ()):
            self.codes += re.findall(r"/start ([\w-]{22})", reply["text"])
        return answer

    def known(self) -> dict[str, set[str]]:
        """The batches that each may read of."""
        with self.tarebook.transaction() as conn:
            return {who: {row[0] for row in conn.execute(_MAY_KNOW, {"who": who})} for who in PEOPLE}

    def anything(self, who: str) -> dict:
        number, grams = self.random.randint(1, 6), self.random.choice((40, 120, 230, 400))
        ref = self._steps + 1
        say = self.random.choice(
            (
                self._dish(),
                self._dish(),
                f"batch {number} cooked {self.random.choice((500, 600, 700))} g",
                f"batch {number} cooked {self.random.choice((500, 600, 700))} g",
                f"took {grams} g from batch {number}",
                f"took {grams} g from batch {number}",
                f"took {grams} g from batch {number}",
                f"{grams} g {OWN[who]}",
                "share my kitchen",
                "share my kitchen",
                f"code {self.random.choice(self.codes) if self.codes else 'x' * 22}",
                f"code {self.codes[-1] if self.codes else 'x' * 22}",
                "leave the kitchen",
                "yes",
                "yes",
                "undo",
                f"change last to {grams} g",
                f"delete #{number}",
                "same again",
                f"finished batch {number}",
                f"split batch {number} into 3 boxes",
                f"a box from batch {number}",
                "today",
                "batches",
                "/kitchen",
            )
        )
        if self._refs[who] and self.random.random() < 0.1:
            return {
                "who": who,
                "edit": self.random.choice(self._refs[who]),
                "say": f"took {grams} g from batch {number}",
            }
        if say.startswith("took"):
            self._refs[who].append(ref)
        return {"who": who, "say": say, "ref": ref}

    def _dish(self) -> str:
        self.cooked += 1
        return f"new batch dish{self.cooked}x: 700 g raw chicken breast"


@pytest.mark.parametrize("seed", range(3))
def test_nobody_reads_what_is_not_theirs_and_no_portion_changes_its_batch(seed: int) -> None:
    with open_tarebook("sqlite://") as tarebook:
        home = Household(tarebook, seed)
        for who, food in OWN.items():
            home.step(who=who, say=f"label {food}: serving 100 g, 400 kcal, protein 5, fat 0, carbs 95")
        before = home.known()
        for _ in range(STEPS):
            keys = home.anything(home.random.choice(PEOPLE))
            answer = home.step(**keys)
            after = home.known()
            for reply in answer["replies"]:
                to, said = reply["to"], reply["text"]
                assert APOLOGY not in said, keys
                assert not any(food in said for who, food in OWN.items() if who != to), (keys, said)
                unknown = set(re.findall(r"dish\d+x", said)) - before[to] - after[to]
                assert not unknown, (keys, reply)
                if to != keys["who"] and "kcal" in said:
                    assert re.search(r"#\d+", said), "figures are told to others only of their own weigh-ins"
            before = after
        with tarebook.transaction() as conn:
            assert all(food == name for food, name in conn.execute(_PORTIONS)), (
                "a portion is of the batch it was taken from"
            )
            for name, cooked, taken in conn.execute(_BATCHES):
                assert taken is None or cooked is not None, f"{name}: a portion stands without a cooked weight"
