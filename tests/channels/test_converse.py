"""The black-box door: one JSON line in, one JSON line out."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from bot.app import open_tarebook
from bot.channels.converse import Converse
from tests.programs import Nursery

CONVERSE = [sys.executable, "-m", "bot", "converse"]

Step = Callable[..., dict[str, Any]]
Converses = Callable[..., "subprocess.CompletedProcess[bytes]"]


@pytest.fixture
def step() -> Iterator[Step]:
    """Carries out one step, given as keywords, or one raw line; gives back the line out."""
    with open_tarebook("sqlite://") as tarebook:
        converse = Converse(tarebook)
        count = 0

        def take(line: bytes | None = None, **keys: object) -> dict[str, Any]:
            nonlocal count
            count += 1
            out = converse.step(count, json.dumps(keys).encode() if line is None else line)
            assert out.endswith(b"\n")
            assert out.count(b"\n") == 1
            answer = json.loads(out)
            assert answer["step"] == count
            assert set(answer) in ({"step", "error"}, {"step", "replies", "events"})
            return answer

        yield take


@pytest.fixture
def converse(programs: Nursery) -> Converses:
    """Runs `tarebook converse` on so many bytes."""
    return lambda text, *options: programs.run(["converse", *options], os.environ, text)


def lines_out(run: subprocess.CompletedProcess[bytes]) -> list[dict[str, Any]]:
    return [json.loads(line) for line in run.stdout.splitlines()]


def weigh_ins(answer: dict[str, Any]) -> list[dict[str, Any]]:
    return [event for event in answer["events"] if event["type"] == "weigh_in"]


def test_a_weigh_in_is_recorded_and_answered(step: Step) -> None:
    answer = step(say="180 g cooked rice", who="mira", at="2026-03-02T18:04:00+00:00")
    (recorded,) = weigh_ins(answer)
    assert recorded["who"] == "mira"
    assert recorded["as_weighed_g"] == 180
    assert recorded["day"] == "2026-03-02"
    (reply,) = answer["replies"]
    assert set(reply) == {"to", "text", "choices", "image"}
    assert reply["to"] == "mira"
    assert reply["text"]
    assert reply["image"] is False


def test_numbers_are_rounded_on_the_way_out_only(step: Step) -> None:
    (one,) = weigh_ins(step(say="1 oz cheddar"))
    (ten,) = weigh_ins(step(say="10 oz cheddar"))
    # 1 oz = 28.349523125 g (NIST Handbook 44, appendix C); ten ounces rounded one by one would make 283.50 too,
    # but their energy on the day would not
    assert (one["as_weighed_g"], ten["as_weighed_g"]) == (28.35, 283.5)
    (sheet,) = [event for event in step(say="today")["events"] if event["type"] == "sheet"]
    assert sheet["kcal"] == pytest.approx(11 / 10 * ten["kcal"], abs=0.006)


def test_who_and_at_have_defaults(step: Step) -> None:
    first = step(say="180 g cooked rice")
    assert weigh_ins(first)[0]["who"] == "me"
    assert weigh_ins(first)[0]["day"] == "2026-03-02"


def test_at_goes_on_by_a_minute_from_the_persons_own_last_moment(step: Step) -> None:
    step(say="180 g cooked rice", who="mira", at="2026-03-05T23:59:00+00:00")
    step(say="180 g cooked rice", who="ali", at="2026-03-02T10:00:00+00:00")
    step(advance_to="2026-04-01T00:00:00+00:00")
    assert weigh_ins(step(say="180 g cooked rice", who="mira"))[0]["day"] == "2026-03-06"
    assert weigh_ins(step(say="180 g cooked rice", who="ali"))[0]["day"] == "2026-03-02"


def test_a_bad_step_does_not_move_the_clock(step: Step) -> None:
    step(say="180 g cooked rice", at="2026-03-05T23:58:00+00:00")
    assert "error" in step(edit=99, say="200 g cooked rice")
    assert weigh_ins(step(say="180 g cooked rice"))[0]["day"] == "2026-03-05"


def test_the_day_is_the_persons_own(step: Step) -> None:
    assert step(person="noa", timezone="Pacific/Auckland") == {"step": 1, "replies": [], "events": []}
    # 2026-03-02 12:00 UTC is 2026-03-03 01:00 in Auckland, which keeps UTC+13 until April (IANA tz database)
    assert weigh_ins(step(say="180 g cooked rice", who="noa"))[0]["day"] == "2026-03-03"


def test_a_persons_region_decides_their_cup(step: Step) -> None:
    step(person="us", region="US")
    step(person="metric", region="metric")
    (us,) = weigh_ins(step(say="1 cup milk", who="us"))
    (metric,) = weigh_ins(step(say="1 cup milk", who="metric"))
    # US customary cup 236.5882365 mL (NIST Handbook 44, appendix C), metric cup 250 mL
    assert metric["as_weighed_g"] / us["as_weighed_g"] == pytest.approx(250 / 236.5882365, rel=1e-3)


def test_an_edit_changes_what_the_message_recorded(step: Step) -> None:
    (first,) = weigh_ins(step(say="180 g cooked rice", ref=7))
    answer = step(edit=7, say="150 g cooked rice")
    (changed,) = [event for event in answer["events"] if event["type"] == "weigh_in_changed"]
    assert changed["was"] == first["id"]
    assert changed["as_weighed_g"] == 150


def test_an_edit_is_judged_at_the_moment_of_the_message(step: Step) -> None:
    step(say="180 g cooked rice", ref=7, at="2026-03-02T20:00:00+00:00")
    answer = step(edit=7, say="150 g cooked rice yesterday", at="2026-03-04T20:00:00+00:00")
    assert [event["day"] for event in answer["events"] if event["type"] == "weigh_in_changed"] == ["2026-03-01"]


def test_only_ones_own_messages_can_be_edited(step: Step) -> None:
    step(say="180 g cooked rice", who="mira", ref=7)
    assert "error" in step(edit=7, say="150 g cooked rice", who="ali")


def test_a_press_answers_the_last_question_shown(step: Step) -> None:
    asked = step(say="200 g rice")
    assert [event["type"] for event in asked["events"]] == ["weigh_in_open", "question"]
    choices = asked["replies"][-1]["choices"]
    cooked = next(number for number, choice in enumerate(choices, start=1) if "cooked" in choice)
    (recorded,) = weigh_ins(step(press=cooked))
    assert recorded["state"] == "cooked"
    assert recorded["as_weighed_g"] == 200


def test_a_question_is_pressed_only_by_whom_it_was_shown_to(step: Step) -> None:
    step(say="200 g rice", who="mira")
    assert "error" in step(press=1, who="ali")


def test_a_choice_that_was_not_offered_records_nothing(step: Step) -> None:
    step(say="200 g rice")
    answer = step(press=9)
    assert weigh_ins(answer) == []
    assert answer["replies"]


def test_time_passes(step: Step) -> None:
    assert step(advance_to="2026-03-02T20:30:00+00:00") == {"step": 1, "replies": [], "events": []}


BAD_LINES = {
    "an empty line": b"",
    "white space": b"  \r\n",
    "no JSON": b"180 g cooked rice",
    "half JSON": b'{"say": "180 g',
    "no object": b'["say", "180 g cooked rice"]',
    "an empty object": b"{}",
    "an unknown key": b'{"say": "180 g cooked rice", "colour": "red"}',
    "an unknown step": b'{"shout": "180 g cooked rice"}',
    "two steps in one": b'{"say": "180 g cooked rice", "press": 1}',
    "a number for a text": b'{"say": 180}',
    "a text for a number": b'{"press": "1"}',
    "a choice below the first": b'{"press": 0}',
    "a choice beyond counting": b'{"press": 99999999999999999999}',
    "no question shown": b'{"press": 1}',
    "an unknown ref": b'{"edit": 5, "say": "180 g cooked rice"}',
    "nobody": b'{"say": "180 g cooked rice", "who": ""}',
    "no moment": b'{"say": "180 g cooked rice", "at": "tea time"}',
    "a moment without its offset": b'{"say": "180 g cooked rice", "at": "2026-03-02T12:00:00"}',
    "a moment before the first year": b'{"say": "180 g cooked rice", "at": "0001-01-01T00:00:00+14:00"}',
    "no such day": b'{"advance_to": "2026-02-30T12:00:00+00:00"}',
    "no zone": b'{"person": "mira", "timezone": "Atlantis/Centre"}',
    "a zone that is a path": b'{"person": "mira", "timezone": "../../etc/passwd"}',
    "a zone that is a folder": b'{"person": "mira", "timezone": "Europe"}',
    "no region": b'{"person": "mira", "region": "EU"}',
    "no role": b'{"person": "mira", "role": "cook"}',
    "half a surrogate pair": rb'{"say": "\ud83c 180 g"}',
    "not UTF-8": b'{"say": "180 g caf\xe9"}',
    "a byte order mark of another encoding": b"\xff\xfe{\x00",
    "deep brackets": b'{"say": ' + b"[" * 100_000,
    "a huge number": b'{"say": "180 g cooked rice", "ref": 1e999}',
}


@pytest.mark.parametrize("line", BAD_LINES.values(), ids=BAD_LINES.keys())
def test_a_bad_step_is_answered_with_an_error_and_the_run_goes_on(step: Step, line: bytes) -> None:
    answer = step(line)
    assert answer["error"]
    assert "Traceback" not in answer["error"]
    assert weigh_ins(step(say="180 g cooked rice"))[0]["id"] == 1


HOSTILE_TEXTS = {
    "nothing": "",
    "white space": " \n\t ",
    "100 kB of letters": "x" * 100_000,
    "100 kB of digits": "9" * 100_000,
    "100 kB of items": "180 g rice, " * 8_000,
    "100 kB of brackets": "(" * 100_000,
    "control characters": "".join(map(chr, range(32))) + "\x7f\x80\x9f",
    "a null": "180 g\0cooked rice",
    "direction marks": "\u202e180 g\u2066 cooked rice\u200f",
    "joined marks": "e" + "\u0301" * 5_000,
    "a format": "{0} %s %(who)s ${PATH}",
    "a statement": "'); DROP TABLE weigh_in; --",
    "powers": "9**9**9 g rice",
    "beyond floats": "1e400 g rice",
    "beyond whole numbers": f"took 200 g from batch {'9' * 400}",
    "no number": "nan g rice, inf g rice, -0 g rice",
    "digits of other scripts": "١٨٠ g cooked rice and ௧௨ eggs",
    "planes beyond the first": "🍚" * 1_000 + "𝟙𝟠𝟘 g",
}


@pytest.mark.parametrize("text", HOSTILE_TEXTS.values(), ids=HOSTILE_TEXTS.keys())
def test_any_text_is_answered(step: Step, text: str, caplog: pytest.LogCaptureFixture) -> None:
    answer = step(say=text)
    assert any(reply["text"].strip() for reply in answer["replies"])
    assert caplog.records == [], "the message could not be handled"
    assert weigh_ins(step(say="180 g cooked rice"))


def test_each_answer_is_written_before_the_next_step_is_read() -> None:
    with subprocess.Popen(CONVERSE, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        for number in (1, 2, 3):
            process.stdin.write(b'{"say": "180 g cooked rice"}\n')
            process.stdin.flush()
            assert json.loads(process.stdout.readline())["step"] == number
        process.stdin.close()
        assert process.stdout.read() == b""
    assert process.returncode == 0


def test_the_last_line_may_lack_its_end(converse: Converses) -> None:
    run = converse(b'{"say": "180 g cooked rice"}\r\n{"say": "2 eggs"}')
    assert [len(weigh_ins(answer)) for answer in lines_out(run)] == [1, 1]
    assert run.returncode == 0


def test_no_input_is_no_error(converse: Converses) -> None:
    run = converse(b"")
    assert (run.returncode, run.stdout, run.stderr) == (0, b"", b"")


def test_ctrl_c_leaves_cleanly(programs: Nursery) -> None:
    with programs.start(["converse"], os.environ) as process:
        process.stdin.write(b'{"say": "180 g cooked rice"}\n')
        process.stdin.flush()
        process.stdout.readline()
        process.send_signal(signal.SIGINT)
        assert process.wait(timeout=30) == 0
        assert process.stderr.read() == b""


def test_a_reader_who_leaves_is_no_error(programs: Nursery) -> None:
    with programs.start(["converse"], os.environ) as process:
        process.stdout.close()
        process.stdin.write(b'{"say": "180 g cooked rice"}\n' * 2)
        process.stdin.close()
        assert process.wait(timeout=30) == 0
        assert process.stderr.read() == b""


def test_a_database_stays(converse: Converses, tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path}/kept/tarebook.db"
    converse(b'{"say": "180 g cooked rice", "ref": 7}\n', "--database", url)
    run = converse(b'{"edit": 7, "say": "150 g cooked rice"}\n{"say": "2 eggs"}\n', "--database", url)
    changed, added = lines_out(run)
    assert [event["type"] for event in changed["events"]] == ["weigh_in_changed"]
    assert weigh_ins(added)[0]["id"] == 2


@pytest.mark.parametrize("url", ("nonsense", "sqlite:////proc/none/tarebook.db", "mysql://localhost/tarebook"))
def test_a_database_that_cannot_be_opened_is_said_and_exits_with_2(converse: Converses, url: str) -> None:
    run = converse(b'{"say": "180 g cooked rice"}\n', "--database", url)
    assert run.returncode == 2
    assert run.stdout == b""
    assert run.stderr
    assert b"Traceback" not in run.stderr


def test_something_that_is_no_database_is_left_alone(converse: Converses, tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_bytes(b"Dear kitchen,\n" * 1_000)
    run = converse(b"", "--database", f"sqlite:///{letter}")
    assert run.returncode == 2
    assert letter.read_bytes() == b"Dear kitchen,\n" * 1_000
