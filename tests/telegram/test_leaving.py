"""Taking one's data along and leaving, in a chat."""

from __future__ import annotations

import io
import zipfile

from sqlalchemy import func, select

from bot.channels.telegram import CHANNEL
from bot.store.schema import arrival, inbound, outbox, person

from .conftest import Run
from .crowd import Human
from .loopback import Loopback


def test_everything_comes_as_one_file(bot: Run, mira: Human) -> None:
    mira.asks("180 g cooked rice")
    sent = mira.asks("/export")
    assert "all your data" in sent.text
    assert sent.document is not None
    archive = zipfile.ZipFile(io.BytesIO(sent.document))
    assert archive.testzip() is None
    assert b"white rice" in archive.read("weigh_ins.csv")
    (week,) = [name for name in archive.namelist() if name.startswith("pictures/")]
    assert archive.read(week).startswith(b"\x89PNG")


def test_a_file_that_got_no_answer_is_sent_again(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("hello")
    server.fail("sendDocument", 1, status=502)
    assert mira.asks("export my data").document is not None


def test_the_last_words_arrive_and_leave_no_row(bot: Run, server: Loopback, mira: Human) -> None:
    mira.asks("180 g cooked rice")
    mira.presses(mira.asks("/privacy"), "yes, erase everything")
    mira.presses(mira.hears()[0], "yes, erase it all")
    assert "erased" in mira.hears()[0].text

    def rows() -> list[object]:
        with bot.tarebook.transaction() as conn:
            told = select(func.count()).where(outbox.c.channel == CHANNEL)
            heard = select(func.count()).where(inbound.c.channel == CHANNEL)
            words = select(func.count()).where(arrival.c.body != "")
            names = select(func.count()).where(person.c.name == mira.name)
            return [conn.execute(each).scalar_one() for each in (told, heard, words, names)]

    server.until(lambda: rows() == [0, 0, 0, 0])
    assert "Nothing is on record" in mira.asks("today").text
