"""One weigh-in as told, of a food or out of a batch: recorded, asked about, or refused."""

from __future__ import annotations

from bot.conversation.batches import portions
from bot.conversation.exchange import Exchange
from bot.conversation.outcomes import Ask, Refuse
from bot.conversation.records import judging
from bot.language.meanings import Item


def record(item: Item, ex: Exchange) -> None:
    """Whatever becomes of it, it ends up in the exchange."""
    if item.batch is not None:
        portion = portions.judge_portion(item, ex)
        if isinstance(portion, tuple):
            portions.record_portion(item, *portion, ex)
        elif isinstance(portion, Ask):
            ex.ask(portion)
        else:
            ex.refuse(portion)
        return
    judged = judging.judge(item, ex)
    if isinstance(judged, Ask):
        ex.ask(judged)
    elif isinstance(judged, Refuse):
        ex.refuse(judged)
    else:
        judging.record(item, judged, ex)
