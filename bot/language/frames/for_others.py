"""Frames for food that the writer handled and did not eat: put on another's plate, kept for somebody, turned down."""

from __future__ import annotations

from bot.language.frames.eaters import Eaters
from bot.language.frames.serving import seen
from bot.language.meanings import Meaning, NotMine
from bot.language.pack import pack
from bot.language.scene import Scene
from bot.language.text import singular

MOST_CHUNKS = 20


def put_on_anothers(scene: Scene) -> list[Meaning] | None:
    """'put 40 g jam on her toast', "poured 30 g milk into mum's tea": what it was put on is somebody else's."""
    if not _tells_one_thing(scene) or scene.named or scene.cue("i_ate", "for_myself"):
        return None
    told = seen(scene.message)
    if told.mine:
        return None
    put = any(start <= told.at[0] + 2 for start, _ in told.places("put_it_there"))
    owner = next((n for n in told.at if _is_anothers_food(told, n, put)), None)
    if owner is None or any(c.start > owner for c in scene.amounts):
        return None
    return [NotMine(why="others")]


def kept_for_another(scene: Scene) -> list[Meaning] | None:
    """'saved 150 g quiche for Pete', 'put by 200 g curry for my brother': nobody has had it yet."""
    if not _tells_one_thing(scene) or scene.named or scene.cue("i_ate", "for_myself"):
        return None
    told = seen(scene.message)
    kept = any(start <= told.at[0] + 2 for start, _ in told.places("kept_by"))
    theirs = told.person is not None and told.led_by(told.person[0], "for_whom")
    return [NotMine(why="others")] if kept and theirs and not told.mine else None


def offered(scene: Scene) -> list[Meaning] | None:
    """'I was offered 120 g of brownie but passed', 'she pressed 90 g of cake on me and I left it on the plate'."""
    if len(scene.message.chunks) > 2 * MOST_CHUNKS or scene.message.asks or len(scene.amounts) != 1 or scene.named:
        return None
    refused = scene.cue("offered_me") and scene.cue("did_not_take_it", "turned_it_down")
    return [NotMine(why="negation")] if refused and not scene.cue("i_ate", "ate_it_all") else None


def _tells_one_thing(scene: Scene) -> bool:
    message = scene.message
    return (
        len(message.chunks) <= MOST_CHUNKS
        and not message.asks
        and bool(scene.foods)
        and bool(scene.amounts)
        and not message.of("hash", "energy", "macro", "price")
    )


def _is_anothers_food(told: Eaters, n: int, put: bool) -> bool:
    """Whether token n says whose food or cup something went on: 'in her tea', "onto dad's toast"."""
    owner, behind = told.word(n), told.word(n + 1)
    if not behind or not any(told.word(k) in pack()["onto_that"] for k in (n - 1, n - 2)):
        return False
    words = told.message.words
    kin = told.message.tokens[n].text.endswith("'s") or owner.endswith("s")
    named = put and kin and singular(owner) in words.people | {w for w in pack()["more_people"].words if " " not in w}
    if owner not in pack()["belonging_to_others"] and not named:
        return False
    food = any(c.start <= n + 1 < c.end for c in told.message.of("food", "moment"))
    return food or behind in words.vessels or behind in pack()["meal_or_drink"]
